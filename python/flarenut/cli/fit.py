"""`--fit`: the ends and adapters that a file leaves open, put in. One refusal for every command that takes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..circuit import Circuit
from ..hardware import fitted
from .guard import Refusal

if TYPE_CHECKING:
    from ..circuit.file.load import CircuitFile
    from ..circuit.file.vehicle import VehicleFile
    from ..hardware.fitted import Fitted


def fitted_of(loaded: CircuitFile | VehicleFile) -> Fitted:
    """What `fitted` makes of the circuit of a file; refused for a vehicle."""
    circuits = getattr(loaded.circuit, "circuits", None)
    if circuits is not None:
        raise Refusal(f"{loaded.name}: ends are proposed for one circuit, and this is a vehicle of {len(circuits)}\n  cure: name the file of one circuit")
    assert isinstance(loaded.circuit, Circuit), "what is no vehicle is a circuit"
    return fitted(loaded.circuit)
