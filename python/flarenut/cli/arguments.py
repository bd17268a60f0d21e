"""The words of the command line."""

from __future__ import annotations

import argparse
import re
from typing import Any, NoReturn
from collections.abc import Callable, Sequence
from argparse import Namespace, _SubParsersAction

from .. import __version__
from ..units.errors import nearest
from .guard import Refusal

EPILOG = """exit codes: 0 solved; 1 not solved or ill-posed, with the cause; 2 bad input, with place and cure; 3 solved, but a STOP finding stands
and --fail-on-stop was given; 130 stopped by Ctrl-C.
Results are engineering estimates, not a certification: verify by measurement, and follow the codes that apply to you."""


class _Parser(argparse.ArgumentParser):
    """Refuses in the words of the other messages."""

    def error(self, message: str) -> NoReturn:
        wrong = re.search(r"invalid choice: '([^']*)' \(choose from (.*)\)", message)
        close = nearest(wrong[1], re.findall(r"[\w-]+", wrong[2])) if wrong else None
        raise Refusal(f"flarenut: {message}\n  cure: " + (f"did you mean '{close}'? " if close else "") +
                      f"'{self.prog} --help' shows what can be written")


def parse(argv: Sequence[str] | None = None) -> Namespace:
    """Options of one command; `options.run(options)` does it and returns the exit code."""
    parser, commands = _parser()
    options, left = parser.parse_known_args(argv)
    if left:
        known = commands[options.command]._option_string_actions if options.command else parser._option_string_actions
        close = nearest(left[0].split("=")[0], known)
        raise Refusal(f"flarenut: '{left[0]}' is not understood\n  cure: " +
                      (f"did you mean '{close}'? " if close else "") + "'flarenut --help' shows what can be written")
    if options.command is None:
        raise Refusal(parser.format_help().rstrip())
    return options


def _parser() -> tuple[_Parser, dict[str, _Parser]]:
    parser = _Parser(prog="flarenut", description="Pressure, flow and margin in a vehicle's fluid system, from a file.",
                     epilog=EPILOG, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--version", action="version", version=f"flarenut {__version__}")
    commands = _Commands(parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser))
    solve = commands.add("solve", _solve, "solve a circuit file in every case and print the table")
    solve.add_argument("file", metavar="FILE.toml", help="circuit file; - reads standard input")
    _units(solve)
    solve.add_argument("--case", metavar="NAME", action="append", help="only this case; may be repeated")
    solve.add_argument("--json", action="store_true", help="one JSON object in SI units instead of the table")
    solve.add_argument("--plot", metavar="FILE.png", help="also write the pressure ladder as a picture")
    solve.add_argument("--fail-on-stop", action="store_true", help="exit code 3 where a STOP finding stands, for scripts")
    sweep = commands.add("sweep", _sweep, "solve a circuit file over the values that its [sweep.NAME] headings vary")
    sweep.add_argument("file", metavar="FILE.toml", help="circuit file; - reads standard input")
    _units(sweep)
    sweep.add_argument("--only", metavar="NAME", action="append", help="only this sweep; may be repeated")
    sweep.add_argument("--out", metavar="PATH", action="append",
                       help="write .csv or .nc (every row), or .png, .svg or .pdf (lines) instead of the table; may be repeated")
    sweep.add_argument("--findings", action="store_true",
                       help="also tell the worst finding of each point; of many, those of 2000 spread evenly, about 100 a second")
    sweep.add_argument("--threads", metavar="NUMBER", type=int, default=0, help="how many at once (default: one for each core)")
    audit = commands.add("audit", _audit, "check every joint of a circuit file: whether it seals, and what to put between")
    audit.add_argument("file", metavar="FILE.toml", help="circuit or vehicle file; - reads standard input")
    _units(audit)
    audit.add_argument("--fit", action="store_true", help="propose hose ends and adapters where none are said, and check those too")
    audit.add_argument("--csv", metavar="FILE.csv", help="also write the joints as a table")
    drive = commands.add("drive", _drive, "follow a circuit or vehicle through the [drive.NAME] headings of its file: warming up, an hour in traffic")
    drive.add_argument("file", metavar="FILE.toml", help="circuit or vehicle file; - reads standard input")
    drive.add_argument("names", metavar="NAME", nargs="*", help="only this drive")
    _units(drive)
    drive.add_argument("--only", metavar="NAME", action="append", help="the same; may be repeated")
    drive.add_argument("--json", action="store_true", help="one JSON object in SI units, of all drives asked for, instead of the table")
    drive.add_argument("--fail-on-stop", action="store_true", help="exit code 3 where a STOP finding stands, for scripts")
    drive.add_argument("--out", metavar="PATH", action="append",
                       help="write .csv or .nc (a row for every moment), or .png, .svg or .pdf (temperatures) instead of the table; may be repeated")
    demo = commands.add("demo", _demo, "solve the invented return-style fuel system that comes with flarenut")
    _units(demo)
    demo.add_argument("--out", metavar="DIR", help="folder for the picture and a copy of the circuit file (default: the picture alone, here)")
    bill = commands.add("bill", _bill, "what to buy for a circuit or vehicle file: lengths, ends, fittings, clamps, weight, cost")
    bill.add_argument("file", metavar="FILE.toml", help="circuit or vehicle file; - reads standard input")
    _units(bill)
    bill.add_argument("--prices", metavar="FILE", help="price file that you keep, .csv or .toml")
    bill.add_argument("--cut-list", action="store_true", help="also what to cut every hose and tube to, and where tube is bent")
    bill.add_argument("--slack", metavar="SHARE", help="of hose that is run straight, e.g. \"6 %%\" (default: the middle of 5 to 8 %%)")
    bill.add_argument("--fit", action="store_true", help="first put in the ends and adapters that joints need, as 'audit --fit' proposes them; of one circuit")
    bill.add_argument("--csv", metavar="OUT.csv", help="also write the bill as CSV; with --cut-list the cut list beside it, OUT-cuts.csv")
    sheet = commands.add("sheet", _sheet, "write the build sheet of a circuit file: one page for the bench, to print")
    sheet.add_argument("file", metavar="FILE.toml", help="circuit or vehicle file; - reads standard input")
    _units(sheet)
    sheet.add_argument("--out", metavar="FILE.html", help="page to write (default: FILE_sheet.html, here)")
    sheet.add_argument("--prices", metavar="FILE", help="price file that you keep: what things cost, weigh and take up")
    sheet.add_argument("--fit", action="store_true", help="propose hose ends and adapters where none are said, and count on them")
    sheet.add_argument("--date", metavar="TEXT", default="", help="date to print on it, as you write it; today asks the clock (default: a line to write on)")
    parts = commands.add("parts", _parts, "list the words of circuit files, or the keys of one of them")
    parts.add_argument("name", metavar="NAME", nargs="?", help="a part or a heading, e.g. hose or case")
    commands.add("schema", _schema, "print a JSON Schema of circuit files, for completion in an editor")
    return parser, commands.made


class _Commands:
    def __init__(self, group: _SubParsersAction[_Parser]) -> None:
        self.group = group
        self.made: dict[str, _Parser] = {}

    def add(self, name: str, run: Callable[..., Any], words: str) -> _Parser:
        made: _Parser = self.group.add_parser(name, help=words, description=words[0].upper() + words[1:] + ".", epilog=EPILOG,
                                              formatter_class=argparse.RawDescriptionHelpFormatter)
        made.set_defaults(run=run)
        self.made[name] = made
        return made


def _units(parser: _Parser) -> None:
    parser.add_argument("--units", choices=("us", "metric"), help="units of the table (default: what the file says, else us)")


def _solve(options: Namespace) -> int:
    from .solve import solve

    return solve(options)


def _sweep(options: Namespace) -> int:
    from .sweep import sweep

    return sweep(options)


def _audit(options: Namespace) -> int:
    from .audit import audit

    return audit(options)


def _drive(options: Namespace) -> int:
    from .drive import drive

    return drive(options)


def _bill(options: Namespace) -> int:
    from .bill import bill

    return bill(options)


def _sheet(options: Namespace) -> int:
    from .sheet import sheet

    return sheet(options)


def _demo(options: Namespace) -> int:
    from .demo import demo

    return demo(options)


def _parts(options: Namespace) -> int:
    from .parts import parts

    return parts(options)


def _schema(options: Namespace) -> int:
    from .schema import schema

    return schema(options)
