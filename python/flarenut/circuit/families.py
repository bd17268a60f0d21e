"""Families of liquids, by which checks and presets judge: fuel, engine oil, other oils, brake fluid, coolant, water."""

import re

# The first that fits counts. Oil is engine oil by its SAE grade (J300) or where its name says so; J306 grades are gear oil. From memory.
_FAMILIES = tuple((family, re.compile(words)) for family, words in (
    ("oil", r"\b(engine|motor)[- ]oil"),
    ("brake fluid", r"\bbrake fluid|\bdot ?[345]\b"),
    ("transmission fluid", r"\batf\b|\btransmission|\bpower steering"),
    ("gear oil", r"\bgear|\bdifferential|\baxle|\b(65|70|75|80|85)w|\bsae (80|85|90|110|140|190|250)\b"),
    ("hydraulic fluid", r"\bhydraulic|\biso vg\b"),
    ("fuel", r"gasoline|petrol|ethanol|methanol|diesel|e10|e85|^e\d\d"),
    ("oil", r"\b(0|5|10|15|20|25)w|\bsae\b"),
    ("other oil", r"\boil"),
    ("coolant", r"glycol|coolant"),
    ("water", r"water"),
))


def family_of(name: str) -> str:
    """The family of a liquid by its name; "" for one that tells none. "oil" is engine oil.

    >>> family_of("SAE 10W-40"), family_of("E30"), family_of("something else")
    ('oil', 'fuel', '')
    >>> family_of("brake fluid DOT 4"), family_of("ethylene glycol 50 %")
    ('brake fluid', 'coolant')
    >>> family_of("ATF"), family_of("gear oil 75W-90"), family_of("ISO VG 46"), family_of("oil")
    ('transmission fluid', 'gear oil', 'hydraulic fluid', 'other oil')
    """
    return next((family for family, words in _FAMILIES if words.search(name.lower())), "")
