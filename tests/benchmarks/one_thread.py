"""Import before NumPy: its linear algebra reads once how many threads it may use. One, so that rates are per core."""

import os

for _name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[_name] = "1"
