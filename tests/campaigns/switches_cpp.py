"""All mutants of the C++ headers in one program: each place that can be wrong asks, while the program runs, whether it is to be.

So a test is compiled once, not once for every wrong. `a < b` becomes `a < wrong::Less{7} < b`, whose precedence is that of the sign it stands
for; a number becomes a call that gives the right or the wrong one. Which wrong is on is said by the variable FLARENUT_WRONG (none: the header as
it is); the file named by FLARENUT_REACHED is told at the end which places were run at all.

Where the compiler must know the answer (`if constexpr`) and between typed quantities this cannot be: `may_switch` says so, and such a mutant is
compiled by itself.
"""

import re

from mutants_cpp import CALLS, OPERATORS, Mutant

OTHER_TYPE = 77  # exit status of a program whose wrong sign would give another type: it would not compile

_NAMES = {"<": "Less", "<=": "AtMost", ">": "More", ">=": "AtLeast", "==": "Same", "!=": "Other", "+": "Plus", "-": "Minus", "*": "Times", "/": "Over",
          "&&": "And", "||": "Or"}
_CALLED = {"std::min(": "least", "std::max(": "most", "sqrt(": "root", "exp(": "grown"}

_BEGIN = """#pragma once
#include <cmath>
#include <concepts>
#include <cstdio>
#include <cstdlib>
namespace wrong {
inline const int on = [] { const char* said = std::getenv("FLARENUT_WRONG"); return said ? std::atoi(said) : -1; }();
inline bool reached[%(count)d];
inline bool is_on(int number) { reached[number] = true; return on == number; }
struct Told {
  ~Told() {
    const char* name = std::getenv("FLARENUT_REACHED");
    std::FILE* file = name ? std::fopen(name, "w") : nullptr;
    if (!file) return;
    for (int i = 0; i < %(count)d; ++i) if (reached[i]) std::fprintf(file, "%%d\\n", i);
    std::fclose(file);
  }
};
inline const Told told;
inline double number(int number, double right, double other) { return is_on(number) ? other : right; }
template <class A> A least(int number, const A& a, const A& b) { return is_on(number) == (a < b) ? b : a; }
template <class A> A most(int number, const A& a, const A& b) { return is_on(number) == (a < b) ? a : b; }
template <class A> A root(int number, const A& a) { using std::sqrt, std::cbrt; return is_on(number) ? A(cbrt(a)) : A(sqrt(a)); }
template <class A> A grown(int number, const A& a) { using std::exp, std::expm1; return is_on(number) ? A(expm1(a)) : A(exp(a)); }
template <class A, class Sign> struct Held { const A& left; Sign sign; };
"""
_SIGN = """struct %(name)s { int number; };
template <class A> Held<A, %(name)s> operator%(sign)s(const A& a, %(name)s sign) { return {a, sign}; }
template <class A, class B> auto operator%(sign)s(const Held<A, %(name)s>& held, const B& b) -> decltype(held.left %(sign)s b) {
  using Right = decltype(held.left %(sign)s b);
%(others)s  return held.left %(sign)s b;
}
"""
_OTHER = """  if (is_on(held.sign.number + %(place)d)) {
    if constexpr (requires { { held.left %(other)s b } -> std::same_as<Right>; }) return held.left %(other)s b;
    else std::_Exit(%(status)d);
  }
"""


def may_switch(mutant: Mutant) -> bool:
    """False where the mutant has to be compiled by itself."""
    source = mutant.path.read_text(encoding="utf-8")
    return "if constexpr" not in mutant.text and '#include "flarenut/units/' not in source


def switches(count: int) -> str:
    """The header that the switched headers include; `count` is how many mutants there are."""
    text = _BEGIN % {"count": count}
    for sign, others in OPERATORS.items():
        each = "".join(_OTHER % {"place": place, "other": other.strip(), "status": OTHER_TYPE} for place, other in enumerate(others))
        text += _SIGN % {"name": _NAMES[sign.strip()], "sign": sign.strip(), "others": each}
    return text + "}  // namespace wrong\n"


def switched(source: str, mutants: dict[int, Mutant]) -> str:
    """A header with all its mutants in it; the numbers are theirs."""
    lines = source.split("\n")
    for number, mutant in sorted(mutants.items(), key=lambda item: (item[1].line, item[1].start), reverse=True):
        line = lines[mutant.line - 1]
        right = line[mutant.start:mutant.end]
        if right in OPERATORS and mutant.instead != OPERATORS[right][0]:
            continue  # its sign is set with the first of its changes, whose number comes before
        before, instead = line[:mutant.start], _instead(number, right, mutant.instead)
        if right in ("sqrt(", "exp(") and before.endswith("std::"):
            before = before.removesuffix("std::")
        lines[mutant.line - 1] = before + instead + line[mutant.end:]
    text = "\n".join(lines)
    text = re.sub(r"(?<!if )\bconstexpr (?=[^\n;]*[\w>] \w+( =|\{[^\n]*\};))", "const ", text)  # numbers
    text = re.sub(r"(?<!if )\bconstexpr ", "inline ", text)  # functions
    text = re.sub(r"\[\](?=\()", "[&]", text)  # what was a constant has to be captured
    return text.replace("#pragma once", '#pragma once\n#include "wrong_switches.hpp"', 1)


def _instead(number: int, right: str, other: str) -> str:
    if right in OPERATORS:
        sign = right.strip()
        return f" {sign} wrong::{_NAMES[sign]}{{{number}}} {sign} "
    if right in CALLS:
        return f"wrong::{_CALLED[right]}({number}, "
    return f"wrong::number({number}, {right}, {other})"
