"""Studies: many solves of one circuit, kept as labelled data.

`sweep` varies named words of a circuit over grids, lists or random samples and hands out an xarray Dataset;
docs/guide/sweeps.md shows how. xarray is fetched when a sweep runs, not when this is imported.
"""

from .axes import between
from .dataset import in_units, words_of
from .storage import load, load_sweep, save, save_sweep
from .sweep import SweepInterrupted, SweepWarning, sweep

__all__ = ["SweepInterrupted", "SweepWarning", "between", "in_units", "load", "load_sweep", "save", "save_sweep", "sweep", "words_of"]
