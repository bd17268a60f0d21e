"""Pictures of answers: each takes and returns a matplotlib Axes, shows nothing by itself and leaves global style alone."""

from .ladder import pressure_ladder

__all__ = ["pressure_ladder"]
