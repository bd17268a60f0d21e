"""Nothing that is compiled for a newer processor may be found by the rest of the program.

The kernels of the lanes, and of the blocks of large factors, are compiled with instructions that not every processor has. An inline function or a template that such
a file shares with others would be emitted there as a weak symbol, and the linker may take that copy for everybody. So every weak
symbol of a kernel must carry the instruction set in its name, and the kernel itself must be all that it offers.
"""

import shutil
import subprocess

import cpp_build
import pytest

KERNELS = {
    "lanes/kernel_plain": "Plain", "lanes/kernel_avx2": "Avx2", "lanes/kernel_avx512": "Avx512",
    "lanes/slope_kernel_avx2": "Avx2", "lanes/slope_kernel_avx512": "Avx512",
    "solver/block_kernel_plain": "Registers<2", "solver/block_kernel_avx2": "Registers<4", "solver/block_kernel_avx512": "Registers<8",
}


def breaches(listing: str, kernel: str) -> list[str]:
    """What `nm -C` lists of a kernel and should not be there."""
    offered = f"flarenut::{kernel.replace('/', '::')}()"
    found = []
    for line in listing.splitlines():
        kind, _, name = line[17:].partition(" ")
        if name.startswith("DW.ref."):  # where exceptions find their way: data, the same for all
            continue
        if kind in "WVu" and KERNELS[kernel] not in name:
            found.append(name)
        if kind in "TDBRG" and name != offered:
            found.append(name)
    return found


@pytest.mark.parametrize("kernel", KERNELS)
def test_a_kernel_shares_no_code(kernel, require):
    if shutil.which("nm") is None:
        pytest.skip("nm was not found (apt-get install binutils)")
    require(cpp_build.configure_tests)
    require(cpp_build.build, cpp_build.BUILD, "flarenut")
    built = cpp_build.BUILD / f"CMakeFiles/flarenut.dir/cpp/flarenut/{kernel}.cpp.o"
    listing = subprocess.run(["nm", "-C", built], capture_output=True, text=True, check=True).stdout
    if f"{kernel.partition('/')[2]}()" not in listing:
        pytest.skip(f"this compiler builds no kernel for {kernel}")
    assert breaches(listing, kernel) == []


def test_a_shared_function_is_caught():
    listing = """\
0000000000000000 T flarenut::lanes::kernel_avx2()
0000000000000000 W flarenut::lanes::Iteration<flarenut::lanes::TwoRegisters<flarenut::lanes::Avx2One> >::evaluate()
0000000000000000 W flarenut::smooth_step(double const&)
0000000000000010 T flarenut::lanes::helper()
0000000000000020 t local
0000000000000000 V DW.ref.__gxx_personality_v0
                 U operator new(unsigned long)
"""
    assert breaches(listing, "lanes/kernel_avx2") == ["flarenut::smooth_step(double const&)", "flarenut::lanes::helper()"]
