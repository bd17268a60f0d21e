"""What is refused of a place says which."""

import flarenut as fn
import pytest


@pytest.mark.parametrize(("word", "kind"), [("tank", "tank 'cell'"), ("junction", "junction 'hot end'")])
def test_what_is_refused_of_a_place_names_it(word, kind):
    circuit = fn.Circuit("bench (invented)", fluid="water")
    name = kind.split("'")[1]
    with pytest.raises(fn.CircuitError, match="beyond 10000 kW") as refusal:
        getattr(circuit, word)(name, heat="13808 kW")
    assert str(refusal.value).startswith(f"{kind}: 'heat' is '13808 kW'") and refusal.value.place == kind
