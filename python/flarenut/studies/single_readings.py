"""Readings of single solves by the names that sweeps have."""

from ..results.rows import asks_for
from .outputs import SUCTION_LIMIT, SUCTION_WORDS

# What can be read of an exchanger of a vehicle -> function of its `ExchangerReading`.
OF_EXCHANGER = {"heat": lambda one: one.heat, "share_of_most": lambda one: one.share_of_most,
                **{f"{side}.{word}": lambda one, side=side, word=word: getattr(getattr(one, side), word)
                   for side in ("first", "second") for word in ("temperature_in", "temperature_out")}}


def question_of(case, name):
    """Function of a `CaseResult` that reads what a name says, such as "rail.gauge", "pump.suction_margin". Raises `NoSuchName`.

    case : any `CaseResult` of the circuit
    """
    owner, _, word = str(name).rpartition(".")
    if word in SUCTION_WORDS and word != SUCTION_LIMIT:
        return lambda one: getattr(one.part(owner).suction, word.removeprefix("suction_"))
    (ask,) = asks_for({"": case}, [name])
    return ask.question
