"""`--fit`: the ends and adapters that a file leaves open, put in. One refusal for every command that takes it."""

from ..hardware import fitted
from .guard import Refusal


def fitted_of(loaded):
    """What `fitted` makes of the circuit of a file; refused for a vehicle."""
    circuits = getattr(loaded.circuit, "circuits", None)
    if circuits is not None:
        raise Refusal(f"{loaded.name}: ends are proposed for one circuit, and this is a vehicle of {len(circuits)}\n  cure: name the file of one circuit")
    return fitted(loaded.circuit)
