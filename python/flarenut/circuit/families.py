"""Families of liquids, by which checks and presets judge: fuel, oil, coolant, water."""

_FAMILIES = (("fuel", ("gasoline", "petrol", "ethanol", "methanol", "diesel", "e10", "e85")), ("oil", ("oil", "sae", "iso vg")),
             ("coolant", ("glycol", "coolant")), ("water", ("water",)))


def family_of(name):
    """The family of a liquid by its name; "" for one that tells none.

    >>> family_of("SAE 10W-40"), family_of("E30"), family_of("something else")
    ('oil', 'fuel', '')
    """
    low = name.lower()
    for family, words in _FAMILIES:
        if any(word in low for word in words) or (family == "fuel" and low[:1] == "e" and low[1:3].isdigit()):
            return family
    return ""
