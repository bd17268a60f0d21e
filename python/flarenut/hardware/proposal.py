"""`Proposal`: one thing that is put in, or that was left open."""

from typing import NamedTuple


class Proposal(NamedTuple):
    """In words: where, and what."""

    where: str
    what: str
