"""Readings of single solves by the names that sweeps have."""

from ..results.rows import asks_for
from .outputs import SUCTION_LIMIT, SUCTION_WORDS


def question_of(case, name):
    """Function of a `CaseResult` that reads what a name says, such as "rail.gauge", "pump.suction_margin". Raises `NoSuchName`.

    case : any `CaseResult` of the circuit
    """
    owner, _, word = str(name).rpartition(".")
    if word in SUCTION_WORDS and word != SUCTION_LIMIT:
        return lambda one: getattr(one.part(owner).suction, word.removeprefix("suction_"))
    (ask,) = asks_for({"": case}, [name])
    return ask.question
