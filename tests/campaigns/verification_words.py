"""What the dossier says in words: cases judged elsewhere, the campaigns there are to be, and what is not built or not proven.

A line here goes when it is no longer true; nothing here may claim more than a test or a record shows.
"""

from typing import NamedTuple


class Elsewhere(NamedTuple):
    """A published case that only the C++ tests judge: the binding does not reach it, or it is the same row through a part's own law."""

    file: str
    title: str
    source: str


ASSERTED_IN_CPP = (
    Elsewhere("parts/test_relief_valve.cpp", "relief valve: cracking and full-flow pressure of a worked example follow from spring and poppet",
              "BK-ESP Example 8.1"),
    Elsewhere("correlations/test_valve.cpp", "valve coefficients: every definition row", "ST-60534-1, ST-60534-2-1: definitions that are sentences"),
    Elsewhere("correlations/test_junction_published.cpp", "junction: published coefficients, wyes and small branches", "HB-TP410 (2009) Eq. 2-35 and after"),
    Elsewhere("correlations/test_friction.cpp", "friction: Colebrook-White at zero roughness stays within 3 % of the modern smooth law",
              "McKeon, Zagarola and Smits 2005 (constants from memory)"),
    Elsewhere("correlations/test_internal_convection.cpp",
              "internal convection: the extension of Hausen to flat passages stays within 16 % of the flat-plate form",
              "Edwards, Denny and Mills (from memory)"),
    Elsewhere("parts/test_orifice.cpp", "short tube: every row of Lichtarowicz, Duggins and Markland, 1965", "PA-LIC, through the part"),
    Elsewhere("parts/test_size_step.cpp", "size step: every tabled sudden step, both ways through one part", "HB-TP410, TH-BORDA, through the part"),
    Elsewhere("parts/test_fitting.cpp", "fittings: every row of Hooper's and Darby's tables gives its K at three places",
              "PA-HOO, PA-DAR, through the part"),
    Elsewhere("parts/test_bearings.cpp", "bearings: the textbook's equation for a groove round the middle, by hand",
              "a textbook of machine design (from memory)"),
    Elsewhere("heat/test_liquid_exchanger.cpp", "liquid exchanger: an engine-oil cooler of a textbook, oil in the ring and water in the tube",
              "BK-INC Example 11.1, through the part"),
    Elsewhere("heat/test_air_core.cpp", "air core: a vehicle radiator of a textbook", "BK-CEH Example 11-6, through the part"),
    Elsewhere("heat/test_line_wall.cpp", "line wall: a bare hot pipe in a still room, as a handbook has it", "BK-INC Example 9.4 (from memory)"),
    Elsewhere("fluids/test_heat_state.cpp", "enthalpy of water is that of the steam tables, and a pressure drop warms it as published",
              "IAPWS-95 (from memory)"),
    Elsewhere("fluids/test_coolants_and_refrigerants.cpp", "heat of vaporisation follows from the boiling curve by Clapeyron's equation",
              "published saturation tables (from memory)"),
    Elsewhere("spikes/test_gas_line.cpp", "spike: an isothermal gas line at low Mach number, as two textbooks work it",
              "BK-DOU, BK-COU: a trial of a part that is not built"),
)

# Second judges: open libraries that carry published correlations independently.
LIBRARIES = {"test_correlations_against_fluids.py": "fluids", "test_heat_transfer_against_ht.py": "ht", "test_fluids_against_coolprop.py": "CoolProp",
             "test_line_heat_end_to_end.py": "ht, CoolProp", "test_cooler_heat_end_to_end.py": "ht, CoolProp"}

# Name of the record (docs/campaigns/<name>.json) and what the campaign is to do, whether or not it has run.
CAMPAIGNS = {
    "judge": "an independent judge: the full equations of random circuits by another hand and another solver",
    "judge_heat": "the same for oil circuits with coolers, whose temperatures are found",
    "random_circuits": "random circuits, some with their temperatures: each solves with its certificate of mass, loops and energy or is diagnosed in words; planted "
                       "faults are told",
    "symmetries": "symmetries: renaming, reordering, other units, mirrored circuits, split lines, shifted datum, monotone sense, gradients",
    "fuzz": "hostile input: files, arrays and dictionaries that no one should write, by coverage-guided fuzzing",
    "tools_sanitize": "sanitizers: addresses and undefined behaviour watched in the C++ suites",
    "tools_leaks": "leaks: memory that is not given back, in the same build",
    "tools_threads": "races: threads that write where others read, in a build of its own",
    "tools_races": "locks and races: the same asked of valgrind, on the release build",
    "tools_valgrind": "memory checker: memory used before it is set or after it is given back, on the release build",
    "tools_tidy": "linter: the C++ sources read by a linter",
    "tools_wide": "AVX-512: the suites of the lanes and of large factors in an emulated processor that has it",
    "tools_types": "types: those of the Python sources",
    "tools_stubs": "stub: that of the compiled module against the module",
    "tools_coverage": "coverage: lines and branches that the tests run",
    "tools_mutate": "mutants of the checks: small wrongs put into them; which do the tests find",
    "tools_mutate-cpp": "mutants of the correlations: small wrongs put into them; which do the tests find",
}


class Limit(NamedTuple):
    what: str
    why: str


NOT_BUILT = (
    Limit("Two-phase flow", "scavenge lines, vapour lock once it has begun, foaming: no part. Suction margins warn before it; what happens after is not computed."),
    Limit("Gas lines", "only a trial in the tests, judged by two worked examples; breathers, boost and vent lines are not a part."),
    Limit("Hoses that swell in a solve", "brake travel sums volumes at one pressure; a hose that swells over time is only a trial in the tests."),
    Limit("Pick-up uncovering, valve chatter, pulsation, heat soak after a stop",
          "outside the model. Tilted tank surfaces are drawn as hydrostatics has them, without sloshing."),
)

NOT_PROVEN = (
    Limit("No vehicle and no test bench", "every judge here is a book, a standard, a table or another program. No circuit of ours has been built and measured."),
    Limit("Fittings of dash sizes", "the constants of elbows, tees and valves are of pipe fittings from half an inch up; none was measured on a hose end. Bores of hose ends are partly from memory."),
    Limit("Tees", "a momentum balance. It lies within 0.3 velocity heads of published laws, which lie as far from each other."),
    Limit("Reynolds numbers of 2000 to 4000, and walls between smooth and rough",
          "no published law holds there; the rows that were measured there are shown and not judged."),
    Limit("Cold oil", "below about -20 C viscosity rests on a few samples or on an extrapolation, whose own band reaches from -42 to +58 %."),
    Limit("Conductivity and specific heat of fuels and oils",
          "the least certain of all properties: published values differ by up to 39 % from the law used."),
    Limit("Copies of standards", "most standards and handbooks were read in copies, companions or open programs, not on the printed page; `how` says which."),
    Limit("Second steady states", "they are looked for by a search around the answer. One that is found is one; that none is found is no proof that there is none."),
    Limit("What stands still", "temperatures in a pocket that only seepage reaches may not settle, and are then told as such; a stream of water or glycol is balanced to "
          "1e-10 K, which in strong streams may be more than 1e-9 of the heat that is moved."),
    Limit("Interruptions and hostile files", "Ctrl-C, a killed worker, a full disk, two writers, and files that no one should write are part of the ordinary tests; there is "
          "no long form."),
    Limit("Drives over time", "judged by closed forms, by balances of mass and heat and by their steady ends. No measured warm-up was compared."),
    Limit("AVX-512", "the kernels of batches and the blocks of large factors for AVX-512 have run in an emulated processor alone, where they give the bits of the "
          "others; never on a real one, and nothing is known of their speed."),
    Limit("Speed aimed at", "warm chains were to solve 1.1 million rows a second, and rows of a grid are solved at 0.8 to 1.0. A gradient with every number was to "
          "cost a quarter of a warm solve, and takes a third ([benchmarks](benchmarks.md))."),
    Limit("Other machines", "built and tested on 64-bit Linux with g++; no other system, compiler or processor family has been tried."),
)
