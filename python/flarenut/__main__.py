"""`python -m flarenut` does what `flarenut` does."""

import sys

from .cli import main

sys.exit(main())
