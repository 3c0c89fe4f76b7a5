"""One change between two OpenAPI documents, and what kinds of change there are.

The kinds, and which of them break a caller, follow a published list: "About breaking changes in the REST API" of
GitHub's documentation (docs.github.com). What it says of parameters holds for the fields of a body too.
"""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple


class Kind(StrEnum):
    """A kind of change; its value is how it is reported."""

    OPERATION_REMOVED = "operation removed or renamed"
    FIELD_REMOVED = "field removed or renamed"
    PARAMETER_REMOVED = "parameter removed or renamed"
    REQUIRED = "now required"
    NOT_PROMISED = "no longer always there"
    TYPE = "type changed"
    WORD_REMOVED = "word removed from a list"
    RULE = "new validation rule"
    ANSWER_REMOVED = "answer removed"
    ACCESS = "access asks for more"
    ADDITION = "addition"


class Change(NamedTuple):
    """What differs at one place.

    Attributes:
        kind: The kind of change; all but an addition break a caller.
        place: The operation, or the schema and field: `POST /v1/quotes`, `Injury.diameter_mm`.
        says: What was and what is.
    """

    kind: Kind
    place: str
    says: str

    @property
    def breaking(self) -> bool:
        """Whether a caller of the earlier document may fail."""
        return self.kind is not Kind.ADDITION

    def __str__(self) -> str:
        return f"{self.place}: {self.kind}: {self.says}"
