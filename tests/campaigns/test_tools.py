"""The quick tools, and that each of them can complain: a wrong type, a stub that lies, what a sanitizer says, what a linter sees."""

import importlib.util
import json
import os
import shutil
import sys
import time

import pytest
import run_tools
import tool_cpp
import tool_tidy
import tool_types
import tool_wide
from tool_places import run


def need(*modules):
    for name in modules:
        if importlib.util.find_spec(name) is None:
            pytest.skip(f"'{name}' is not installed (pip install '.[test]')")


def test_the_package_is_strictly_typed():
    need("mypy")
    result = tool_types.types("short", 1)
    assert result.met, "\n".join(result.notes)
    assert result.counts["files"] > 300


def test_a_wrong_type_is_told(tmp_path):
    need("mypy")
    wrong = tmp_path / "wrong.py"
    wrong.write_text("from flarenut import units\n\nshown: int = units.show('no number', 'length')\n", encoding="utf-8")
    told = [line for line in tool_types.complaints(path=wrong) if "wrong.py" in line]
    assert len(told) == 2 and "in assignment" in told[0] and "incompatible type" in told[1]


def test_the_stub_is_that_of_the_compiled_module():
    need("mypy", "pybind11_stubgen")
    result = tool_types.stubs("short", 1)
    assert result.met, "\n".join(result.notes)
    assert result.counts["modules"] == 4


@pytest.mark.parametrize("stderr, told", [
    ("a.cpp:3: runtime error: signed integer overflow: 2 + 2\n", ("runtime error: signed integer overflow: 2 + 2",)),
    ("==1==ERROR: AddressSanitizer: heap-use-after-free on address\n", ("ERROR: AddressSanitizer: heap-use-after-free",)),
    ("WARNING: ThreadSanitizer: data race (pid=1)\n", ("WARNING: ThreadSanitizer: data race (pid=1)",)),
    ("", ())])
def test_what_a_sanitizer_says_is_a_complaint_though_every_case_passes(stderr, told):
    result = tool_cpp.complaints("All tests passed (7 assertions in 2 test cases)\n", stderr, 0)
    assert result.notes == told and result.met == (not told) and result.counts["assertions"] == 7


PASSED = "All tests passed (7 assertions in 2 test cases)\n"
LEAKING = "==1==ERROR: LeakSanitizer: detected memory leaks\n"


@pytest.mark.parametrize("stderr, status, sanitized, kept", [
    ("", 0, True, True), (LEAKING, 1, True, False), ("a.cpp:3: runtime error: shift exponent 40\n", 0, False, True),
    ("a.cpp:3: runtime error: shift exponent 40\n" + LEAKING, 1, False, False), ("", -11, False, False)])
def test_leaks_and_other_complaints_of_one_run_are_told_apart(stderr, status, sanitized, kept):
    done = tool_cpp.Run("mark", PASSED, stderr, status, 3.0)
    assert tool_cpp.said_of(done, leaks=False).met == sanitized and tool_cpp.said_of(done, leaks=True).met == kept
    assert tool_cpp.said_of(done, leaks=True).seconds == 3.0


FAULTS = """#include <cstdio>
#include <cstdlib>
int main(int count, char** words) {
  std::puts("All tests passed (1 assertion in 1 test case)");
  std::fflush(stdout);  // leaks are looked for before the library would do it
  if (count == 1) return 0;
  if (words[1][0] == 's') return (1 << (count * 20)) == 1;
  if (words[1][0] == 'l') { static volatile char* kept; kept = new char[8]; kept = nullptr; return 0; }
  volatile char* gone = new char[8];
  delete[] gone;
  return gone[2] == 'x';
}
"""


def test_the_compilers_watchers_are_awake(tmp_path):
    """A program that reads what is given back, one that shifts too far and one that forgets its memory are each told, a sound one is not."""
    source, program = tmp_path / "faults.cpp", tmp_path / "faults"
    source.write_text(FAULTS, encoding="utf-8")
    compiler = shutil.which("g++")
    if compiler is None or run([compiler, "-O0", "-fsanitize=address,undefined", source, "-o", program]).returncode:
        pytest.skip("no g++ with sanitizers (apt-get install g++)")

    def said(*words):
        done = run([program, *words], env={"ASAN_OPTIONS": "detect_leaks=1"})
        return [tool_cpp.said_of(tool_cpp.Run("mark", done.stdout, done.stderr, done.returncode, 1.0), leaks).met for leaks in (False, True)]

    assert said() == [True, True]
    assert not said("gone")[0]
    assert said("shifted")[0] is False
    assert said("lost") == [True, False]


RACE = """#include <cstdio>
#include <thread>
int count = 0;
int main(int words, char**) {
  std::thread other([] { for (int i = 0; i < 1000; ++i) ++count; });
  if (words > 1) other.join();
  for (int i = 0; i < 1000; ++i) ++count;
  if (words == 1) other.join();
  std::puts("All tests passed (1 assertion in 1 test case)");
}
"""


def test_the_watcher_of_threads_is_awake(tmp_path):
    source, program = tmp_path / "race.cpp", tmp_path / "race"
    source.write_text(RACE, encoding="utf-8")
    compiler = shutil.which("g++")
    if compiler is None or run([compiler, "-O0", "-fsanitize=thread", source, "-o", program]).returncode:
        pytest.skip("no g++ with the thread sanitizer (apt-get install g++)")
    done = {words: run([program, *words]) for words in ((), ("joined",))}
    told = {words: tool_cpp.complaints(one.stdout, one.stderr, one.returncode) for words, one in done.items()}
    assert told["joined",].met and told[()].notes and "ThreadSanitizer: data race" in told[()].notes[0]


def test_of_a_long_word_of_valgrind_the_fault_is_kept():
    said = tool_cpp.said_by_valgrind("==7== Command: x\n==7== \n==7== Invalid read of size 4\n==7==    at 0x1: law (line.cpp:3)\n==7==    by 0x2: main\n==7== \n")
    assert said == ["Invalid read of size 4 at 0x1: law (line.cpp:3) by 0x2: main"]


def test_a_suite_that_did_not_end_well_does_not_pass():
    assert not tool_cpp.complaints("test cases: 2 | 1 passed | 1 failed\n", "", 1).met
    assert not tool_cpp.complaints("", "", -11).met


SPEAKING = """import os, pathlib, sys, time
path = pathlib.Path(sys.argv[1])
said = path.read_text()
path.with_suffix(".number").write_text(str(os.getpid()))
if path.stem == "slow": time.sleep(600)
print(said)
sys.exit(path.stem == "broken")
"""


@pytest.fixture
def speaking(tmp_path):
    """A linter that says of a file what stands in it, and a maker of files; a broken one ends badly, a slow one hardly ever."""
    (tmp_path / "speaking.py").write_text(SPEAKING, encoding="utf-8")

    def files(**said):
        for name, lines in said.items():
            (tmp_path / f"{name}.cpp").write_text("\n".join(f"{tmp_path}/{line}" for line in lines), encoding="utf-8")
        return [tmp_path / f"{name}.cpp" for name in said]

    return [sys.executable, tmp_path / "speaking.py"], files


def test_what_a_linter_says_of_a_place_in_a_header_counts_once(speaking, tmp_path):
    command, files = speaking
    header = "law.hpp:7:2: warning: is read unchecked [bugprone-unchecked-optional-access]"
    beside = header.replace(":2:", ":9:")
    own = "tee.cpp:3:1: warning: is unused [misc-unused-using-decls]"
    both = tool_tidy.examine(command, files(line=[header], tee=[header, beside, own]), 2, tmp_path)
    assert both.counts == {"files": 2, "complaints": 3} and not both.met
    told = "law.hpp:7: is read unchecked [bugprone-unchecked-optional-access]"
    assert both.notes == (told, told, "tee.cpp:3: is unused [misc-unused-using-decls]")
    assert tool_tidy.examine(command, files(line=[], tee=[]), 1, tmp_path) == ({"files": 2, "complaints": 0}, (), True, None)


def test_a_linter_that_ends_badly_does_not_pass(speaking, tmp_path):
    command, files = speaking
    broken = tool_tidy.examine(command, files(broken=[": no such folder"], line=[]), 2, tmp_path)
    assert not broken.met and broken.counts["complaints"] == 1 and "ended with 1" in broken.notes[0] and "no such folder" in broken.notes[0]


def test_nothing_goes_on_after_a_linter_is_stopped(speaking, tmp_path):
    command, files = speaking
    ended = tool_tidy.each_file(command, files(line=[], slow=[], tee=[]), 2)
    assert [next(ended)[0].stem, next(ended)[0].stem] == ["line", "tee"]
    mark = tmp_path / "slow.number"
    while not (mark.exists() and mark.read_text()):
        time.sleep(0.02)
    ended.close()
    with pytest.raises(OSError):
        os.kill(int(mark.read_text()), 0)


def test_a_linter_that_is_stopped_keeps_what_it_found_and_does_not_pass(speaking, tmp_path, monkeypatch):
    command, files = speaking

    def press(text):
        raise KeyboardInterrupt

    monkeypatch.setattr(tool_tidy, "say", press)
    told = ["line.cpp:3:1: warning: is unused [misc-unused-using-decls]"]
    stopped = tool_tidy.examine(command, files(line=told, tee=told), 1, tmp_path)
    assert not stopped.met and stopped.counts == {"files": 1, "complaints": 1}
    assert stopped.notes == ("stopped before its end: 1 of 2 were examined", "line.cpp:3: is unused [misc-unused-using-decls]")


UNCHECKED = """#include <optional>
int read(const std::optional<int>& given) { return *given; }
"""


def test_the_linter_is_awake(tmp_path):
    """It tells a value that is read unasked, by the checks of .clang-tidy, and nothing of one that is asked for."""
    try:
        tool = tool_tidy.linter()
    except tool_tidy.ToolMissing as trouble:
        pytest.skip(str(trouble))
    sources = tmp_path / "cpp"
    sources.mkdir()
    (sources / "unasked.cpp").write_text(UNCHECKED, encoding="utf-8")
    (sources / "asked.cpp").write_text(UNCHECKED.replace("return *given", "return given ? *given : 0"), encoding="utf-8")
    result = tool_tidy.examine([tool, f"--config-file={tool_tidy.ROOT / '.clang-tidy'}", "--quiet", "--extra-arg=-std=c++20"],
                               [sources / "unasked.cpp", sources / "asked.cpp"], 2, tmp_path)
    assert result.counts == {"files": 2, "complaints": 1}
    assert "unasked.cpp:2" in result.notes[0] and "bugprone-unchecked-optional-access" in result.notes[0]


def test_a_clean_file_is_read_again_once_what_it_hangs_on_has_changed(tmp_path, monkeypatch):
    sources = {"cpp/flarenut/tee.cpp": '#include "flarenut/tee.hpp"\n', "cpp/flarenut/tee.hpp": '#include "flarenut/loss.hpp"\n',
               "cpp/flarenut/loss.hpp": "// K\n", "cpp/flarenut/line.cpp": "// f\n", ".clang-tidy": "Checks: bugprone-*\n"}
    for name, text in sources.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    files = [tmp_path / "cpp/flarenut/tee.cpp", tmp_path / "cpp/flarenut/line.cpp"]
    monkeypatch.setattr(tool_tidy, "ROOT", tmp_path)

    def marks(option="-O3"):
        told = [{"file": str(path), "command": f"c++ {option} {path}"} for path in files]
        (tmp_path / "compile_commands.json").write_text(json.dumps(told), encoding="utf-8")
        tool_tidy.included.cache_clear()
        return tool_tidy.marks("true", tmp_path, files)

    first = marks()
    assert set(first) == {"cpp/flarenut/tee.cpp", "cpp/flarenut/line.cpp"} and marks() == first
    (tmp_path / "cpp/flarenut/loss.hpp").write_text("// K, once more\n", encoding="utf-8")
    second = marks()
    assert second["cpp/flarenut/tee.cpp"] != first["cpp/flarenut/tee.cpp"] and second["cpp/flarenut/line.cpp"] == first["cpp/flarenut/line.cpp"]
    assert all(one != second[name] for name, one in marks("-O0").items())
    (tmp_path / ".clang-tidy").write_text("Checks: cert-*\n", encoding="utf-8")
    assert all(one != second[name] for name, one in marks().items())


def test_a_linter_that_cannot_read_what_to_look_for_is_none(tmp_path):
    """One of another age would pass over the file and look for what it takes by itself."""
    if not any(map(shutil.which, tool_tidy.NAMES)):
        pytest.skip("no linter to ask")
    broken = tmp_path / ".clang-tidy"
    broken.write_text('Checks: "-*"\nCheckOptions:\n  a.B: ["\n', encoding="utf-8")
    with pytest.raises(tool_tidy.ToolMissing, match="does not understand"):
        tool_tidy.linter(broken)


SAID = """has avx512f\r
has avx512dq\r
has avx512vl\r
\x1b[1;32mAll tests passed\x1b[0m (9 assertions in 2 test cases)\r
kernels: avx2 avx512 plain\r
blocks: avx2 avx512\r
ended\r
"""


def test_an_emulated_processor_passes_only_with_what_it_is_emulated_for():
    assert tool_wide.judged(SAID) == ({"test cases": 2, "assertions": 9}, (), True, None)
    for gone, told in {"has avx512dq": "no avx512dq", "avx512 plain": "no kernels for AVX-512", "passed": "did not pass"}.items():
        result = tool_wide.judged(SAID.replace(gone, ""))
        assert not result.met and told in result.notes[0]
    assert not tool_wide.judged("").met


def test_an_unknown_tool_is_refused(capsys):
    with pytest.raises(SystemExit):
        run_tools.main(["sanatize"])
    assert "invalid choice" in capsys.readouterr().err
