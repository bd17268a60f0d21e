"""Writes docs/verification.md, its table of all cases and its pictures: python tests/campaigns/run_verification.py (under a minute).

`--no-pictures` leaves the pictures as they are.
"""

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from verification_counts import ROOT, all_cases, tally  # noqa: E402
from verification_text import write_csv, write_text  # noqa: E402

PAGE = ROOT / "docs" / "verification.md"
FOLDER = ROOT / "docs" / "verification"


def put(path: Path, text: str) -> None:
    """Written aside and renamed, so that a run stopped here leaves a whole page."""
    aside = path.with_name(path.name + ".part")
    aside.write_text(text, encoding="utf-8")
    aside.replace(path)


def main(arguments=None) -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--no-pictures", action="store_true", help="leave the pictures as they are")
    options = parser.parse_args(arguments)
    FOLDER.mkdir(parents=True, exist_ok=True)
    cases = all_cases()
    put(PAGE, write_text(cases))
    put(FOLDER / "cases.csv", write_csv(cases))
    if not options.no_pictures:
        from verification_pictures import draw_all

        for path in draw_all(FOLDER):
            print(path.relative_to(ROOT), file=sys.stderr)
    found = tally(cases)
    print(f"{found.cases} cases of {found.sources} sources: {found.failed} failed, {found.exceptions} exceptions, {found.not_judged} not judged")
    return 1 if found.failed else 0


if __name__ == "__main__":
    sys.exit(main())
