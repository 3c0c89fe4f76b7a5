"""The words of a marking: what a reader of it hands on, and how it refuses."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import msgspec

Form: TypeAlias = Literal["metric", "metric_no_aspect", "inch", "flotation", "alpha", "alpha_mc"]
Structure: TypeAlias = Literal["R", "B", "D"]

TEMPORARY_USE: Final = "TEMPORARY USE ONLY"
RUN_FLAT: Final = "RUN-FLAT"
TUBE_TYPE: Final = "TT"
RETREAD: Final = "RETREAD"

TAGS: Final = {
    **dict.fromkeys(("XL", "EXTRA LOAD"), "XL"),
    **dict.fromkeys(("REINFORCED", "REINF.", "REINF", "RF"), "REINFORCED"),
    **dict.fromkeys(("TL", "TUBELESS"), "TL"),
    **dict.fromkeys((TUBE_TYPE, "TUBE TYPE", "TUBE-TYPE"), TUBE_TYPE),
    **dict.fromkeys(("M+S", "M + S", "M&S", "M & S", "M.S.", "M.S", "M-S", "M/S", "MS"), "M+S"),
    **dict.fromkeys((TEMPORARY_USE, "TEMPORARY USE"), TEMPORARY_USE),
    **dict.fromkeys((RUN_FLAT, "RUN FLAT", "RUNFLAT"), RUN_FLAT),
    **dict.fromkeys((RETREAD, "RETREADED"), RETREAD),
    **{tag: tag for tag in ("SL", "LL", "3PMSF", "FRT", "TRACTION", "POR", "MPT", "ET", "NHS", "REGROOVABLE")},
}
"""The tags of a sidewall, every spelling to its plain one (UN R30, R54, R117, R109; spellings common practice)."""


class MarkingError(ValueError):
    """A marking that cannot be read.

    `code` is one of: empty, too_long, non_ascii_digits, non_ascii_sign, ambiguous_separators, order, brackets,
    unreadable, size_implausible, rim_missing, rim_implausible, load_index_range, speed_symbol_unknown,
    load_range_unknown, said_twice, word_unreadable. `detail` says what is wrong and what would be right; `suggestion`
    is a marking that reads and may be the one meant: to be asked back, never assumed.
    """

    def __init__(self, code: str, detail: str, suggestion: str | None = None) -> None:
        super().__init__(detail if suggestion is None else f"{detail}. Is it {suggestion}?")
        self.code = code
        self.detail = detail
        self.suggestion = suggestion


class MarkingWarning(msgspec.Struct, frozen=True):
    """Something in a marking that reads, but that a person should look at.

    `code` is one of: temporary_spare, rf_ambiguous, trailing_c_is_load_range, zr_with_low_symbol,
    speed_in_size_differs, dual_gt_single, load_range_ply_differ, out_of_scope_speed, mc_without_suffix, word_not_read.
    """

    code: str
    says: str


class ServiceDescription(msgspec.Struct, frozen=True):
    """Load index single, load index dual, speed symbol: `154/150M`."""

    li_single: int
    li_dual: int | None
    speed: str | None


class Marking(msgspec.Struct, frozen=True, kw_only=True):
    """A marking, read. What the sidewall does not say is `None`, empty or false.

    `text` is the marking in its plain spelling, and reads back to the same marking. `structure` is R radial, B bias
    belted, D bias ply (also written `-`). `zr` and `run_flat` are the Z and F beside the R in the size;
    `speed_in_size` is any other speed symbol there. `rim_code` is in inches, or in mm where `rim_is_mm`. `bracketed`
    means that the whole service description stands in brackets: faster than its symbol. `extra_service` holds the
    additional service descriptions. `unread` are words behind the size that are none of a marking's own.
    """

    text: str
    form: Form
    rim_code: float
    prefix: str | None = None
    width_mm: int | None = None
    width_in: float | None = None
    overall_in: float | None = None
    aspect: int | None = None
    structure: Structure | None = None
    zr: bool = False
    speed_in_size: str | None = None
    run_flat: bool = False
    rim_is_mm: bool = False
    suffix: tuple[str, ...] = ()
    load_range: str | None = None
    ply_rating: int | None = None
    li_single: int | None = None
    li_dual: int | None = None
    speed: str | None = None
    bracketed: bool = False
    extra_service: tuple[ServiceDescription, ...] = ()
    tags: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()
    warnings: tuple[MarkingWarning, ...] = ()

    def __str__(self) -> str:
        return self.text

    @property
    def section_width_mm(self) -> float | None:
        """Nominal section width, mm; `None` where the size gives none (alphanumeric sizes)."""
        if self.width_in is not None:
            return self.width_in * 25.4
        return self.width_mm

    @property
    def temporary_spare(self) -> bool:
        """Whether the marking says temporary use: a T before the size, or the words."""
        return self.prefix == "T" or TEMPORARY_USE in self.tags

    @property
    def tube_type(self) -> bool:
        """Whether the marking says that it runs with a tube. TL says no more than that it need not."""
        return TUBE_TYPE in self.tags

    @property
    def retread(self) -> bool:
        """Whether the marking says that it was retreaded."""
        return RETREAD in self.tags

    @property
    def motorcycle(self) -> bool:
        """Whether the marking says motorcycle: M/C behind the rim, or an alphanumeric motorcycle size."""
        return "M/C" in self.suffix or self.form == "alpha_mc"

    @property
    def light_truck(self) -> bool:
        """Whether LT stands before or behind the size."""
        return self.prefix == "LT" or "LT" in self.suffix
