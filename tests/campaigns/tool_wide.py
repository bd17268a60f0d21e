"""The kernels for AVX-512 on a machine that has none: the suites of the lanes in an emulated processor, down to the operating system.

What it shows is that they give the same bits as the others, nothing about time. Needs Debian's bochs, isolinux, xorriso, busybox-static
and cpio, and a Linux kernel with a serial console built in, whose file the variable FLARENUT_LINUX names. The emulator of Debian 12 says a
wrong size of the registers to save, for which Linux 6.1 leaves AVX-512 alone; that of Debian 11 (linux-image-5.10...-cloud-amd64) does not.
"""

import os
import re
import shutil
import subprocess
import tempfile
import time
from pathlib import Path

import tool_cpp
from tool_places import Outcome, ToolMissing, run, say

SOURCES = "(/lanes/|batch_lanes|symmetric_factor)"
CASES = {"kernels": "lanes: rows of a fuel circuit*", "blocks": "every kernel of this processor*"}  # that go through all there are
NEEDED = {"bochs-bin": "bochs", "xorriso": "xorriso", "cpio": "cpio", "busybox": "busybox-static"}
LOADER = (Path("/usr/lib/ISOLINUX/isolinux.bin"), Path("/usr/lib/syslinux/modules/bios/ldlinux.c32"))
FIRMWARE = {"romimage": Path("/usr/share/bochs/BIOS-bochs-latest"), "vgaromimage": Path("/usr/share/vgabios/vgabios.bin")}
FEATURES = ("avx512f", "avx512dq", "avx512vl")
MENU = """DEFAULT run
PROMPT 0
TIMEOUT 1
LABEL run
  KERNEL /linux
  APPEND initrd=/files console=ttyS0 noxsaves nopku nokaslr mitigations=off tsc=unstable lpj=100000 no_timer_check panic=-1 rdinit=/init
"""
FIRST_PROGRAM = """#!/bin/busybox sh
PATH=/bin; busybox mkdir -p /proc; busybox mount -t proc proc /proc
for word in FEATURES; do busybox grep -qw $word /proc/cpuinfo && busybox echo "has $word"; done
/tests
CASES
busybox echo ended; busybox sleep 1; busybox poweroff -f
"""
# The processor is one that has AVX-512, by the name that the emulator knows it by.
MACHINE = """megs: 1024
cpu: model=corei7_skylake_x, count=1, ips=50000000, reset_on_triple_fault=0
ata0-master: type=cdrom, path=start.iso, status=inserted
boot: cdrom
com1: enabled=1, mode=file, dev=said.txt
display_library: rfb, options="timeout=0"
log: machine.txt
panic: action=fatal
"""


def need_tools() -> Path:
    """The kernel's file."""
    for name, package in NEEDED.items():
        if shutil.which(name) is None:
            raise ToolMissing(f"'{name}' was not found (apt-get install {package})")
    for path in (*LOADER, *FIRMWARE.values()):
        if not path.exists():
            raise ToolMissing(f"{path} was not found (apt-get install isolinux syslinux-common bochs bochsbios vgabios)")
    kernel = os.environ.get("FLARENUT_LINUX")
    if not kernel or not Path(kernel).exists():
        raise ToolMissing("FLARENUT_LINUX names no Linux kernel (vmlinuz of Debian 11's linux-image-5.10...-cloud-amd64)")
    return Path(kernel)


def first_files(program: Path, folder: Path) -> bytes:
    """What the kernel starts with, as an archive: the tests, and a program that runs them and turns the machine off."""
    root = folder / "root"
    (root / "bin").mkdir(parents=True)
    shutil.copy(shutil.which("busybox"), root / "bin" / "busybox")
    run(["strip", "-o", root / "tests", program])
    took_part = "$(busybox grep -E '^ *(avx512|avx2|plain)$' /told | busybox sort -u)"
    cases = "\n".join(f"/tests -s '{case}' > /told; busybox echo '{what}:' {took_part}" for what, case in CASES.items())
    init = root / "init"
    init.write_text(FIRST_PROGRAM.replace("FEATURES", " ".join(FEATURES)).replace("CASES", cases), encoding="utf-8")
    init.chmod(0o755)
    names = "\n".join(str(path.relative_to(root)) for path in sorted(root.rglob("*")))
    return subprocess.run(["cpio", "-o", "-H", "newc", "--quiet"], cwd=root, input=names.encode(), capture_output=True, check=True).stdout


def start_disc(program: Path, kernel: Path, folder: Path) -> None:
    disc = folder / "disc"
    (disc / "isolinux").mkdir(parents=True)
    for path in LOADER:
        shutil.copy(path, disc / "isolinux")
    (disc / "isolinux" / "isolinux.cfg").write_text(MENU, encoding="utf-8")
    shutil.copy(kernel, disc / "linux")
    (disc / "files").write_bytes(first_files(program, folder))
    done = run(["xorriso", "-as", "mkisofs", "-quiet", "-o", folder / "start.iso", "-b", "isolinux/isolinux.bin", "-c", "isolinux/boot.cat",
                "-no-emul-boot", "-boot-load-size", "4", "-boot-info-table", disc])
    if done.returncode:
        raise ToolMissing(f"no disc to start from: {done.stderr.strip()[-300:]}")


def emulate(folder: Path, longest: float) -> str:
    """What the machine wrote on its serial line until it turned itself off."""
    settings = folder / "machine.rc"
    settings.write_text(MACHINE + "".join(f"{what}: file={path}\n" for what, path in FIRMWARE.items()), encoding="utf-8")
    machine = subprocess.Popen(["bochs-bin", "-q", "-f", str(settings)], cwd=folder, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL,
                               stderr=subprocess.DEVNULL)
    try:
        machine.stdin.write(b"c\n")  # its debugger waits to be told to go on
        machine.stdin.flush()
        machine.wait(timeout=longest)
    except subprocess.TimeoutExpired:
        pass
    finally:
        machine.kill()
        machine.wait()
    said = folder / "said.txt"
    return said.read_text(encoding="utf-8", errors="replace") if said.exists() else ""


def judged(said: str) -> Outcome:
    """Passed, on a processor that has what is asked for, by a run in which the kernels for it took part."""
    said = re.sub(r"\x1b\[[\d;]*m|\r", "", said)  # colours
    passed = re.search(r"All tests passed \((\d+) assertions? in (\d+) test cases?\)", said)
    lacks = [f"the emulated processor has no {word}" for word in FEATURES if f"has {word}" not in said]
    idle = [f"no {what} for AVX-512 took part" for what in CASES if not re.search(rf"^{what}:.*\bavx512\b", said, re.MULTILINE)]
    broken = [] if passed else ["the suites did not pass: " + " ".join(said.split()[-40:])]
    counts = {"test cases": int(passed[2]) if passed else 0, "assertions": int(passed[1]) if passed else 0}
    return Outcome(counts, tuple(lacks + idle + broken), not (lacks or idle or broken))


def wide(form: str, seed: int) -> Outcome:
    kernel = need_tools()
    program = tool_cpp.build("wide", "CMAKE_BUILD_TYPE=Release", f"FLARENUT_TESTS_OF={SOURCES}", "CMAKE_EXE_LINKER_FLAGS=-static")
    with tempfile.TemporaryDirectory() as name:
        start_disc(program, kernel, Path(name))
        say("starting the emulated machine (two minutes, or ten beside other work) ...")
        begin = time.monotonic()
        return judged(emulate(Path(name), 3600.0))._replace(seconds=time.monotonic() - begin)
