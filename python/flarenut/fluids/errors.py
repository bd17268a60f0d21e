"""What a wrong fluid raises."""


class FluidError(ValueError):
    """A fluid that cannot be had: an unknown name, an argument that does not fit, a number out of range.

    Parameters
    ----------
    name : the fluid or argument as it was written
    reason : what is wrong, a sentence without its full stop
    hint : what to write instead; may be empty

    The text of the error is ``reason: hint``.

    >>> str(FluidError("E95x", "unknown fluid 'E95x'", "did you mean 'E95'?"))
    "unknown fluid 'E95x': did you mean 'E95'?"
    """

    def __init__(self, name: str, reason: str, hint: str = "") -> None:
        super().__init__(f"{reason}: {hint}" if hint else reason)
        self.name = name
        self.reason = reason
        self.hint = hint
