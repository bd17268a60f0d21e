"""What a finding adds in the cold: of which oils its band is, and how far others of the grade or kind may lie from them.

The engine says the band first ("taken as good to within 75 %"); these words follow and must not speak against it.
"""

from .records import rows

_OWN_POINT = "give a low-temperature point of yours"
BEYOND_SAMPLES = f"that holds for fluids like those measured; others of the kind may differ by three times: {_OWN_POINT}"


def of_grade(like: str, promise: str) -> str:
    """For a grade: `like` says which oils the band is of, `promise` what the standard lets any oil of the grade be."""
    return f"that holds for the sampled oils and their like, {like}, and not for all of the grade: {promise}; {_OWN_POINT}"


def of_transmission_fluids(count: int) -> str:
    """For the middle of so many transmission fluids; those on file run further apart than its band."""
    measured = [float(row["rotational_minus40C_mPa_s"]) for row in rows("atf.csv") if row["rotational_minus40C_mPa_s"]]
    those = "the one measured" if count == 1 else f"the middle of the {count} measured"
    return (f"that holds for fluids like {those} at -40 degC; all on file run from "
            f"{min(measured):.0f} to {max(measured):.0f} mPa s there: {_OWN_POINT}")
