"""The answer to which unit: what each channel asks for, what was chosen for it, and what was passed over and why."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from mendgauge.answers.base import CERTAINTY, AnswerPart, open_words
from mendgauge.answers.caution import Caution
from mendgauge.answers.citation import Cited, Sources
from mendgauge.answers.figure import Figure, Span
from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.repairability.offer import OfferAnswer

KINDS: Final = open_words("one_piece", "two_piece")


class Channel(AnswerPart, frozen=True, kw_only=True):
    """The channel through the crown as it will be once it is cut clean, and its mouth at the liner."""

    hole_mm: Annotated[
        Span | None, Meta(description="Diameter of the hole as found; null where nobody measured it.")
    ] = None
    cutter_mm: Annotated[
        Span, Meta(description="Nominal size of the cutter, and so the diameter of the channel once cut; mm.")
    ]
    lean_deg: Annotated[Span, Meta(description="Lean from the perpendicular to the tread, degrees.")]
    length_mm: Annotated[Span, Meta(description="Length along its lean, liner to where it comes out, mm.")]
    mouth_length_mm: Annotated[
        Span,
        Meta(description="Longest opening of the mouth at the liner, an ellipse as wide as the cutter, mm."),
    ]
    mouth_across_mm: Annotated[Span | None, Meta(description="Extent of the mouth across the tread, mm.")] = None
    mouth_around_mm: Annotated[Span | None, Meta(description="Extent of the mouth along the tread, mm.")] = None
    centre_across_mm: Annotated[
        Span | None,
        Meta(description="Centre of the mouth at the liner, across from the centre line, mm; shifted by the lean."),
    ] = None
    centre_around_mm: Annotated[
        Span | None, Meta(description="Centre of the mouth at the liner, from the valve along the liner, mm.")
    ] = None


class SizeLimit(Cited, frozen=True, kw_only=True):
    """The limit on size, and what of the channel it means: the hole, the cutter, or the longest opening."""

    hole_to_mm: Annotated[float, Meta(description="Largest hole as measured, mm.", examples=[6.0])]
    cutter_to_mm: Annotated[float, Meta(description="Largest cutter by its nominal size, mm.", examples=[6.0])]
    means: Annotated[
        Annotated[str, Meta(extra_json_schema=open_words("cutter"))] | None,
        Meta(
            description="What the limit is held against once the channel is cut: the `cutter`. "
            "The longest opening decides the patch.",
            examples=["cutter"],
        ),
    ] = None
    hole_keeps: Annotated[
        str, Meta(description="Whether the hole as found keeps to it.", examples=["yes"], extra_json_schema=CERTAINTY)
    ]
    cutter_keeps: Annotated[
        str,
        Meta(description="Whether the cutter keeps to every limit.", examples=["yes"], extra_json_schema=CERTAINTY),
    ]
    says: Annotated[str, Meta(description="Both in words; what the cutter breaks that the hole kept, above all.")]
    clause: Annotated[str, Meta(description="Where in the document; empty where not known.")] = ""


class Passes(msgspec.Struct, frozen=True, kw_only=True):
    """The cutter's passes from one side, along the injury."""

    side: Annotated[
        str,
        Meta(
            description="The side the cutter enters from.",
            examples=["inside"],
            extra_json_schema=open_words("inside", "outside"),
        ),
    ]
    times: Figure


class Preparation(AnswerPart, frozen=True, kw_only=True):
    """How the channel is cut clean and the liner buffed."""

    cutter: Figure
    passes: Annotated[tuple[Passes, ...], Meta(max_length=2, description="In the order of the work.")] = ()
    drill_to: Annotated[Figure | None, Meta(description="How fast the drill may turn.")] = None
    buffer_to: Annotated[Figure | None, Meta(description="How fast the buffer may turn.")] = None
    texture: Annotated[Figure | None, Meta(description="How rough the liner is buffed.")] = None
    cleaned_margin: Annotated[Figure | None, Meta(description="How far past the patch the liner is cleaned.")] = None
    buffed_margin: Annotated[Figure | None, Meta(description="How far past the patch the liner is buffed.")] = None
    says: Annotated[
        tuple[str, ...], Meta(max_length=10, description="The same in words, in the order of the work.")
    ] = ()


class Reason(AnswerPart, frozen=True, kw_only=True):
    """One thing that speaks for or against, by a code and in words."""

    code: Annotated[str, Meta(description="What it is, by name.", examples=["patch_too_small"])]
    by: Annotated[float | None, Meta(description="By how much, where it is a quantity; in `unit`.", examples=[3.5])] = (
        None
    )
    unit: Annotated[str, Meta(description="Unit of `by`; empty where there is none.", examples=["mm"])] = ""
    says: Annotated[str, Meta(description="The same in words.")]


class NeededUnit(AnswerPart, frozen=True, kw_only=True):
    """What a unit must be and have to repair this channel, whatever is still unknown of it."""

    stem_mm: Annotated[Span, Meta(description="Nominal diameter of the stem: the cutter's, mm.")]
    stem_length_mm: Annotated[
        float, Meta(description="Least length of the stem: the channel, what stays proud, and a grip, mm.")
    ]
    proud_mm: Annotated[float | None, Meta(description="Reckoned in it for what stays proud, mm.")] = None
    grip: Annotated[Figure | None, Meta(description="Length of stem to grip, which its length has in it.")] = None
    reach: Annotated[Figure | None, Meta(description="How far the patch reaches past the mouth of the channel.")] = None
    reinforced: Annotated[
        str,
        Meta(description="Whether the patch must be reinforced.", examples=["no"], extra_json_schema=CERTAINTY),
    ]
    patch_mm: Annotated[
        float, Meta(description="Least diameter of a round patch that covers the mouth with its reach, mm.")
    ]
    patch_width_mm: Annotated[
        float | None, Meta(description="Least extent of a rectangular patch from bead to bead, mm.")
    ] = None
    patch_length_mm: Annotated[
        float | None, Meta(description="Least extent of a rectangular patch along the tread, mm.")
    ] = None
    carcass: Annotated[
        Annotated[str, Meta(extra_json_schema=open_words("radial", "bias", "not_known"))] | None,
        Meta(
            description="What the tyre's carcass is, and so what the patch must suit.",
            examples=["radial"],
        ),
    ] = None
    arrows: Annotated[str | None, Meta(description="Which way the patch is turned.")] = None


class Room(msgspec.Struct, frozen=True, kw_only=True):
    """The largest patch that lies under the tread and clear of its neighbours. It may reach beyond the band."""

    patch_mm: Annotated[float, Meta(description="Largest diameter of a round patch, mm; 0 where there is no room.")]
    across_mm: Annotated[float, Meta(description="Largest extent of any patch across the tread, mm.")]
    limited_by: Annotated[
        str,
        Meta(
            description="What limits the diameter.",
            examples=["shoulder"],
            extra_json_schema=open_words("shoulder", "earlier_repair", "injury"),
        ),
    ]
    says: Annotated[str, Meta(description="The same in words.")]


class Outline(msgspec.Struct, frozen=True, kw_only=True):
    """A patch, or the area round it, on the liner."""

    shape: Annotated[
        str,
        Meta(description="Its shape.", examples=["round"], extra_json_schema=open_words("round", "rectangular")),
    ]
    width_mm: Annotated[float, Meta(description="Extent from bead to bead, mm; of a round one its diameter.")]
    length_mm: Annotated[float, Meta(description="Extent along the tread, mm; of a round one its diameter.")]
    area_cm2: Annotated[float, Meta(description="Area, cm².")]


class Piece(AnswerPart, frozen=True, kw_only=True):
    """One thing to take from the shelf."""

    code: Annotated[str, Meta(description="The shop's code, or the generic size's name.", examples=["U-6"])]
    kind: Annotated[
        str,
        Meta(
            description="What it is.",
            examples=["one_piece"],
            extra_json_schema=open_words("one_piece", "stem", "patch"),
        ),
    ]
    generic: Annotated[bool, Meta(description="Whether it is a generic size and no unit of anyone's.")]
    stem_mm: Annotated[float | None, Meta(description="Nominal diameter of its stem, mm; null where it has none.")] = (
        None
    )
    stem_length_mm: Annotated[
        float | None, Meta(description="Length of its stem, mm; null where not known or none.")
    ] = None
    price: Annotated[str | None, Meta(description="What one costs, as the caller sent it; null where not known.")] = (
        None
    )


class Chosen(AnswerPart, frozen=True, kw_only=True):
    """The unit chosen for one channel."""

    kind: Annotated[str, Meta(description="One piece or two.", examples=["one_piece"], extra_json_schema=KINDS)]
    certain: Annotated[
        bool, Meta(description="Whether it does whatever the unknown facts turn out to be; else see `hangs_on`.")
    ]
    hangs_on: Annotated[
        tuple[Reason, ...], Meta(max_length=30, description="What must turn out well for it; empty where certain.")
    ] = ()
    pieces: Annotated[tuple[Piece, ...], Meta(max_length=2, description="What to take: the unit, or stem and patch.")]
    price: Annotated[str | None, Meta(description="What it costs in all; null where a price is not known.")] = None
    patch: Outline
    buffed: Annotated[Outline | None, Meta(description="What is buffed; in a full answer.")] = None
    cleaned: Annotated[Outline | None, Meta(description="What is cleaned; in a full answer.")] = None
    reach_mm: Annotated[
        float, Meta(description="How far the patch reaches past the largest possible mouth on its nearest side, mm.")
    ]
    arrows: Annotated[str | None, Meta(description="Which way the patch is turned.")] = None
    under_shoulder: Annotated[
        str,
        Meta(
            description="Whether the patch reaches past the tread edge, under the shoulder. If so, the unit maker's "
            "chart decides.",
            examples=["no"],
            extra_json_schema=CERTAINTY,
        ),
    ]


class PassedOver(msgspec.Struct, frozen=True, kw_only=True):
    """A unit that was not taken, and why not."""

    code: Annotated[str, Meta(description="The unit's code.", examples=["U-8"])]
    reasons: Annotated[tuple[Reason, ...], Meta(max_length=30, description="Why not, the weightiest first.")]


class Choice(AnswerPart, frozen=True, kw_only=True):
    """The unit for one channel, as long as it is of one piece, or of two."""

    kind: Annotated[
        str,
        Meta(
            description="The unit asked for: of one piece, or of two.", examples=["one_piece"], extra_json_schema=KINDS
        ),
    ]
    when: Annotated[str, Meta(description="When this choice holds; empty where it is settled.")] = ""
    because: Annotated[tuple[Reason, ...], Meta(max_length=10, description="Why of one piece, or of two.")] = ()
    needed: Annotated[NeededUnit | None, Meta(description="What the channel asks of a unit; in a full answer.")] = None
    room: Annotated[Room | None, Meta(description="The room that the patch has; in a full answer.")] = None
    chosen: Annotated[Chosen | None, Meta(description="What was chosen; null where nothing does.")] = None
    nothing_fits: Annotated[
        Reason | None, Meta(description="Where nothing does: by how much the nearest unit fails.")
    ] = None
    generic_instead: Annotated[
        Chosen | None, Meta(description="Where nothing in the stock does: the generic size that does.")
    ] = None
    passed_over: Annotated[
        tuple[PassedOver, ...],
        Meta(max_length=200, description="Every other unit that was tried, in a full answer."),
    ] = ()


class InjuryUnit(AnswerPart, frozen=True, kw_only=True):
    """Preparation and unit for one injury."""

    injury: Annotated[int, Meta(description="Index of the injury.", examples=[0])]
    goes_through: Annotated[
        str,
        Meta(
            description="Whether it goes through: only then is there a channel to repair.",
            examples=["yes"],
            extra_json_schema=CERTAINTY,
        ),
    ]
    channel: Annotated[Channel | None, Meta(description="The channel; null where there is none.")] = None
    limit: Annotated[SizeLimit | None, Meta(description="The limit on its size; null where there is no channel.")] = (
        None
    )
    preparation: Annotated[Preparation | None, Meta(description="Null where nothing is offered.")] = None
    choices: Annotated[
        tuple[Choice, ...],
        Meta(
            max_length=2,
            description="One; two while it is open whether the unit is of one piece or of two, one for each answer; "
            "none where nothing is offered.",
        ),
    ]


class RepairUnits(OfferAnswer, frozen=True, kw_only=True):
    """How each injury is prepared, which repair unit it asks for, and which was chosen."""

    drawn_from: Annotated[
        str,
        Meta(
            description="Where the units come from: the caller's `stock`, or `generic` sizes that are no maker's own.",
            examples=["stock"],
            extra_json_schema=open_words("stock", "generic"),
        ),
    ]
    injuries: Annotated[
        tuple[InjuryUnit, ...], Meta(max_length=20, description="One for each injury, in the order of the case.")
    ]
    proven: Annotated[
        bool,
        Meta(
            description="Whether it is proven that no smaller choice does; false only where many injuries compete for "
            "many scarce units, and the search was cut short."
        ),
    ]
    to_establish: Annotated[
        tuple[ToEstablish, ...],
        Meta(max_length=1000, description="Missing facts that may change the answer, the verdict's first."),
    ]
    cautions: Annotated[tuple[Caution, ...], Meta(max_length=50, description="What whoever acts on this must know.")]
    sources: Sources = msgspec.field(default_factory=dict)
