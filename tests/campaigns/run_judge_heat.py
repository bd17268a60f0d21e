"""The independent judge on oil circuits with coolers, temperatures found with pressures and flows.

    python tests/campaigns/run_judge_heat.py --form short|medium|long [--seed 0] [--record]

short: 12 circuits; medium: 150; long: 1,000. Ctrl-C prints what was done so far.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from judge_heat_compare import judge_heat  # noqa: E402
from random_heat import random_heat  # noqa: E402
from run_judge import main  # noqa: E402

FORMS = {"short": 12, "medium": 150, "long": 1000}

if __name__ == "__main__":
    main("judge_heat", "Independent judge: oil circuits with coolers by another hand", __doc__, FORMS, judge_heat, random_heat)
