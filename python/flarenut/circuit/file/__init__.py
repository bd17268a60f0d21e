"""Circuit files: TOML that a builder writes and edits. The format stands in docs/guide/circuit_files.md."""

from .blame import ill_posed
from .load import CircuitFile, load, read, read_file
from .problems import FileError, Problem

__all__ = ["CircuitFile", "FileError", "Problem", "ill_posed", "load", "read", "read_file"]
