"""Threads of ends against the standards that define them, clashes of threads against lists that others have made, torques and flats."""

import re
from fractions import Fraction

from published_case import Bound, Case
from reference import hardware_rows as rows

from flarenut.catalog import End, end, end_sizes, flats_of, table, thread_of, torque_of
from flarenut.hardware import mate

INCH = 0.0254
INCH_POUND = 0.45359237 * 9.80665 * INCH  # N m, exact by definition
NEWTON_METRES = {"in-lbf": INCH_POUND, "ft-lbf": 12 * INCH_POUND, "N m": 1.0}
STRAIGHT = ("37 flare", "45 flare", "inverted flare", "O-ring boss", "bubble flare", "metric double flare", "metric O-ring port", "banjo")


def designated(designation):
    """Major diameter and pitch [m] that a designation says. Unified threads (ASME B1.1): inches and threads per inch. Metric (ISO 261): millimetres."""
    metric = re.fullmatch(r"M(\d+)x([\d.]+)", designation)
    if metric:
        return float(metric[1]) * 1e-3, float(metric[2]) * 1e-3
    inches = re.fullmatch(r"(?:(\d+)-)?(\d+)/(\d+)-(\d+)", designation)
    return INCH * float(int(inches[1] or 0) + Fraction(int(inches[2]), int(inches[3]))), INCH / int(inches[4])


def straight_threads():
    rounded = "as the table's millimetres are rounded: 0.001 mm, pitch 0.00005 mm"
    for form in STRAIGHT:
        for size in end_sizes(form):
            thread = thread_of(End(form, size))
            major, pitch = designated(thread.designation)
            standard = "ISO 261" if thread.designation.startswith("M") else "ASME B1.1"
            label = "threads", "straight threads by their designation", f"{form} {size}, {thread.designation}"
            yield Case(*label[:2], f"{label[2]}, diameter", standard, "memory, value computed from the designation", major * 1e3, "mm",
                       thread.major * 1e3,
                       Bound(0.0, 1.1e-3, rounded))
            yield Case(*label[:2], f"{label[2]}, pitch", standard, "memory, value computed from the designation", pitch * 1e3, "mm",
                       thread.pitch * 1e3,
                       Bound(0.0, 5e-5, rounded))


def taper_threads():
    """ASME B1.20.1: E0 = D - (0.05 D + 1.1) p, L2 = (0.80 D + 6.8) p; D outside diameter of the pipe, p pitch. The table is rounded to 0.0001 in
    (lengths) and 0.00001 in (diameters); from 1 in on it prints diameters to four places."""
    how = "seen, value computed from the equation"
    for row in table("npt_threads.csv"):
        outside, pitch = float(row["pipe_od_in"]), 1 / float(row["threads_per_in"])
        yield Case("threads", "taper pipe threads by their standard", f"NPT {row['nominal']}, pitch diameter at the end", "ASME B1.20.1", how,
                   outside - (0.05 * outside + 1.1) * pitch, "in", float(row["pitch_dia_at_end_E0_in"]), Bound(0.0, 4e-5, "as the table is rounded"))
        yield Case("threads", "taper pipe threads by their standard", f"NPT {row['nominal']}, effective thread", "ASME B1.20.1", how,
                   (0.80 * outside + 6.8) * pitch, "in", float(row["effective_thread_L2_in"]), Bound(0.0, 1e-4, "as the table is rounded"))


# Mechanical Engineer's Pocket Book, 4.1.38: major and minor diameter at the gauge plane in mm, and the pitch to three places.
WHITWORTH = (("1/8", 9.728, 8.566, 0.907), ("1/4", 13.157, 11.445, 1.337), ("3/8", 16.662, 14.950, 1.337))


def british_threads():
    for size, major, minor, pitch in WHITWORTH:
        thread = thread_of(End("BSPT", size))
        for what, published, value, bound in (("major diameter", major, thread.major * 1e3, 1e-9), ("pitch", pitch, thread.pitch * 1e3, 5e-4),
                                              ("minor diameter", minor, (thread.major - 2 * 0.640327 * thread.pitch) * 1e3, 1.5e-3)):
            yield Case("threads", "British taper threads", f"BSPT {size}, {what}", "S101", "seen", published, "mm", value,
                       Bound(0.0, bound, "three places printed; the depth of the Whitworth form: 0.0015 mm"))


FORMS = {"flare37": "37 flare", "flare37 male": "37 flare", "flare45": "45 flare", "orb port": "O-ring boss", "inverted45": "inverted flare",
         "inverted45 3/16": "inverted flare", "bubble ISO 4038": "bubble flare", "metric double flare (JIS)": "metric double flare",
         "metric bubble flare (ISO)": "bubble flare", "NPT": "NPT", "NPTF": "NPTF", "BSPT": "BSPT"}


def listed_pairs(row):
    """The ends that a row of the list is about, both ways round where it does not say which is the male."""
    forms = FORMS[row["male_or_female_a"]], FORMS[row["b"]]
    if row["dash"] in ("all", "1/2 and 3/4"):
        sizes = [(size, size) for size in (end_sizes("NPT") if row["dash"] == "all" else ("1/2", "3/4"))]
    else:
        sizes = [tuple("M10x1" if form in ("bubble flare", "metric double flare") else row["dash"] or "-3" for form in forms)]
    ways = (("male", "female"),) if "male" in row["male_or_female_a"] else (("male", "female"), ("female", "male"))
    return [tuple(map(End, forms, size, way)) for size in sizes for way in ways]


def verdict(joint):
    """What our audit says of a pair of ends, in the words of the list."""
    if joint.verdict == "seals":
        return f"seals, sealant {joint.takes_sealant}"
    return "screws on and does not seal" if joint.danger else "does not screw on"


def listed_verdict(row):
    if row["seals"] == "with sealant":
        return "seals, sealant needed"
    return "does not screw on" if row["threads_engage"] == "no" else "screws on and does not seal"


def clashes():
    for row in rows("thread_clashes.csv"):
        for first, second in listed_pairs(row):
            yield Case("threads", "what screws on and does not seal",
                       f"{first.form} {first.size} {first.sex} and {second.form} {second.size} {second.sex}",
                       row["source"], row["how"], listed_verdict(row), "", verdict(mate(first, second)), Bound(0.0, why="the same verdict"))


def torque_units():
    """The unit that a row is printed in, and the newton metres that we show."""
    for row in table("fitting_torque.csv"):
        for bound in ("min", "max"):
            yield Case("torque and flats", "torques in newton metres",
                       f"{row['dash']} {row['joint']}, {row['tube_or_fitting_material']}, {bound}", row["source"],
                       row["how"], float(row[f"torque_{bound}_original"]) * NEWTON_METRES[row["original_unit"]], "N m",
                       float(row[f"torque_{bound}_Nm"]),
                       Bound(6e-5, why="rounded to the fifth figure", kind="data"))


def printed_band(text):
    """(least, most) [N m] of '50 +/- 7 N m', '25 + 5 N m', '75 to 125 in-lb' or '15 N m'; what stands in brackets or after 'for' is left out."""
    numbers = [float(one) for one in re.findall(r"\d+(?:\.\d+)?", text.partition(" for ")[0].partition("(")[0])]
    unit = INCH_POUND if "in-lb" in text else 0.01 if "N cm" in text else 1.0
    first, second = (*numbers, 0.0)[:2]
    low, high = ((first - second, first + second) if "+/-" in text else (first, first + second) if "+" in text
                 else (first, second) if " to " in text else (first, first))
    return low * unit, high * unit


def torques_of_other_joints():
    """The printed text of each row, read again, gives its newton metres."""
    for row in table("fitting_torque_more.csv"):
        for what, published in zip(("min", "max"), printed_band(row["printed"])):
            yield Case("torque and flats", "torques of other joints", f"{row['printed']}, {what}", row["source"], row["how"], published, "N m",
                       float(row[f"torque_{what}_Nm"]), Bound(1e-4, why="the printed text, read again", kind="data"))


# What a joint takes, beside the rows that allow it: end, line, material, published band [in-lbf], sources.
CHOSEN = (("-6 AN male", "tube", "aluminium", 110, 125, "S6;M8;M9", "mixed"), ("-6 AN male", "tube", "steel", 270, 300, "S6", "seen"),
          ("-8 AN female", "hose", "steel", 340, 420, "S6", "seen"), ("-16 AN female", "hose", "steel", 900, 1150, "S6", "seen"),
          ("-6 AN female", "hose", "steel", 210, 250, "S6", "seen"), ("-6 AN female", "hose", "aluminium", 150, 195, "S122", "seen"),
          ("-8 AN female", "hose", "aluminium", 270, 350, "S122", "seen"), ("-10 AN female", "hose", "aluminium", 360, 430, "S122", "seen"),
          ("-16 AN female", "hose", "aluminium", 700, 840, "S122", "seen"))


def chosen_torques():
    for words, line, material, low, high, source, how in CHOSEN:
        found = torque_of(end(words), line, material)
        for what, published, value in (("least", low, found.low), ("most", high, found.high)):
            yield Case("torque and flats", "torques chosen", f"{words.replace(' AN', ' 37 flare')}, {line}, {material}, {what}", source, how,
                       published * INCH_POUND, "N m", value, Bound(6e-5, why="rounded to the fifth figure; three sources: what all of them allow"))


def mixed_numbers(text):
    """(least, most) of '1-1/2 to 1-3/4'."""
    return tuple(float(sum(Fraction(part) for part in piece.split("-"))) for piece in text.split(" to "))


def flats():
    for row in table("fitting_turns_flats.csv"):
        found = flats_of(end(f"{row['dash']} {row['joint'][:2]} flare male"), "tube" if "tube" in row["joint"] else "hose")
        for what, published, value, turns in zip(("least", "most"), mixed_numbers(row["flats_past_seated"]), found[:2], ("turns_min", "turns_max")):
            name = f"{row['dash']} {row['joint']}, {what}"
            yield Case("torque and flats", "flats past seated", name, row["source"], row["how"], published, "flats", value,
                       Bound(0.0, why="the row itself", kind="data"))
            yield Case("torque and flats", "flats past seated", f"{name}, turns", row["source"], row["how"], published / 6, "turns",
                       float(row[turns]),
                       Bound(0.0, 6e-6, "six flats make a turn, five figures", "data"))


def cases():
    for part in (straight_threads, taper_threads, british_threads, clashes, torque_units, torques_of_other_joints, chosen_torques, flats):
        yield from part()
