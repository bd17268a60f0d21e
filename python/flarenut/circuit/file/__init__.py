"""Circuit files: TOML that a builder writes and edits. The format stands in docs/guide/circuit_files.md."""

from .blame import ill_posed
from .drives import FileDrive
from .load import CircuitFile, load, read, read_file
from .problems import FileError, Problem
from .sweep_values import Ends
from .sweeps import FileSweep

__all__ = ["CircuitFile", "Ends", "FileDrive", "FileError", "FileSweep", "Problem", "ill_posed", "load", "read", "read_file"]
