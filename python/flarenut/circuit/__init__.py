"""What a builder plumbs: circuits of runs of parts, in shop words, compiled for the engine."""

from .case_words import WORDS as CASE_WORDS
from .circuit import Circuit
from .errors import CircuitError
from .parts import *  # noqa: F403 - the builder functions, listed in parts.__all__
from .parts import __all__ as _builders
from .vehicle import Vehicle

__all__ = ["CASE_WORDS", "Circuit", "CircuitError", "Vehicle", *_builders]
