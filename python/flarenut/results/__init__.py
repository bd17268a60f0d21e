"""Answers in the builder's words: readings at places and across parts, tables by case, JSON in SI.

Rests on `flarenut.units` alone. A circuit's solve makes the `Answer`; docs/guide/results.md shows how to read one.
"""

from .answer import Answer
from .by_case import ByCase
from .case import CaseResult
from .finding import COMMON_PRACTICE, SEVERITIES, Finding, merged, ranked, use_reviewer
from .heights import at_rest
from .layout import Layout
from .listing import Listing
from .names import NoSuchName
from .paths import FILTERS, INJECTORS, METERING, PUMPS, REGULATORS
from .readings import EndReading, PartReading, Reading
from .shared import SharedSolution
from .shares import Share, Way
from .suction_reading import SuctionReading
from .table import Table
from .vehicle_answer import ExchangerReading, VehicleAnswer

__all__ = ["COMMON_PRACTICE", "FILTERS", "INJECTORS", "METERING", "PUMPS", "REGULATORS", "SEVERITIES", "Answer", "ByCase",
           "CaseResult", "EndReading", "ExchangerReading", "Finding", "Layout", "Listing", "NoSuchName", "PartReading", "Reading", "Share",
           "SharedSolution", "SuctionReading", "Table", "VehicleAnswer", "Way", "at_rest", "merged", "ranked", "use_reviewer"]
