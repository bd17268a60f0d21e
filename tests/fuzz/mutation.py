"""Changing inputs so that they stay nearly right: lines, values and bytes of texts are swapped for others that might stand there."""

import re

_VALUES = ('""', '"-8"', '"11 ft"', '"43 psi"', '"0 psi"', '"-1 ft"', '"1e400 ft"', '"nan psi"', '"inf"', '"18 inHg vacuum"', '"\\u202e8 in"', '"<script>"', '"=1+1"',
           "nan", "inf", "-inf", "1e308", "5e-324", "0", "-0.0", "99999999999999999999999999", "0x7fffffffffffffff", "true", "[]", "{}", "[[[]]]",
           '{part = "hose"}', "1979-05-27", "07:32:00", '"E85"', '"water"', '["-4", "-6"]', '{from = 1, to = 2, step = 0}', '{from = 0, to = 1e9, step = 1e-9}',
           '{between = ["11 V", "14 V"]}', '"../../etc/passwd"', '"\\u0000"', '"' + "x" * 300 + '"')
_QUOTED, _NUMBER, _KEY = re.compile(rb'"[^"\n]*"'), re.compile(rb"(?<![\w\"])-?\d+(?:\.\d+)?"), re.compile(rb"^[\w.\"' -]+?(?= *=)", re.MULTILINE)


def mutated(data, random, others=()):
    """`data` with one to a few changes; `others` are inputs from which lines may come."""
    for _ in range(1 + random.randrange(3)):
        data = random.choice(_WAYS)(data, random, others)
    return data


def _at_a_match(pattern):
    def change(data, random, others):
        found = list(pattern.finditer(data))
        if not found:
            return data
        one = random.choice(found)
        pool = [match[0] for match in found] if random.random() < 0.4 else [value.encode() for value in _VALUES]
        return data[:one.start()] + random.choice(pool) + data[one.end():]
    return change


def _lines(data, random, others):
    lines = data.split(b"\n")
    source = random.choice(others).split(b"\n") if others and random.random() < 0.4 else lines
    at, other = random.randrange(len(lines)), random.choice(source)
    how = random.randrange(4)
    if how == 0:
        del lines[at]
    elif how == 1:
        lines.insert(at, other)
    elif how == 2:
        lines[at] = other
    else:
        to = random.randrange(len(lines))
        lines[at], lines[to] = lines[to], lines[at]
    return b"\n".join(lines)


def _bytes(data, random, others):
    at = random.randrange(len(data) + 1)
    how = random.randrange(4)
    if how == 0:
        return data[:at] + bytes([random.randrange(256)]) + data[at:]
    if how == 1:
        return data[:at] + bytes([random.randrange(256)]) + data[at + 1:]
    if how == 2:
        return data[:at] + data[at + 1 + random.randrange(8):]
    return data[:at] + random.choice([b"\xe2\x80\xae", b"\x00", b"\xff", b"\r", b"\xed\xa0\x80", b"[" * 50, b'"', b"]", b"\xef\xbb\xbf", b"#", b","]) + data[at:]


_WAYS = (_at_a_match(_QUOTED), _at_a_match(_QUOTED), _at_a_match(_NUMBER), _at_a_match(_KEY), _lines, _lines, _bytes)
