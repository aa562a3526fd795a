"""The camshaft against the crank: whether it is in time, and by how many teeth it is out."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    Answer,
    Entry,
    FieldError,
    Finding,
    FoundPart,
    InputErrors,
    Lacking,
    Quantity,
    Question,
    angle,
    count,
    optional,
    quantity,
    read_by_instrument,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.units import magnitude_in
from calculators.bench.verdict import best_of, verdict_on
from calculators.formulas.cam_events import cam_late, duration, lobe_centre, tooth
from calculators.timing import asked
from calculators.timing.cam_told import drawn, headline, lobes_table, says, values
from calculators.timing.camshaft import Cam, Valve
from calculators.timing.cautions import ARRIVE, IT_FIRES, OUT_OF_TIME

_WHY = "cams of road and racing engines"
_SHORTEST = 90.0
"""Degrees: a valve open for less was typed with a wrong sign."""


def _event(label: str, fact: Entry[Any], hint: str = "", **facts: Any) -> Entry[Quantity]:
    return angle(label, -60, 150, why=_WHY, exact=True, hint=hint, card=fact.path, shared_as=fact.key, **facts)


def _measured(label: str, key: str, example: str | None = None, **facts: Any) -> Entry[Quantity | None]:
    return asked.wheel_reading(label, -60, 150, why=_WHY, key=key, example=example, **facts)


class CamTiming(Question):
    """Crank degrees, all at one lift, with the lash set; symmetrical lobes.

    At another lift the duration differs, but the lobe centre hardly does.
    """

    asks = "Is the cam in time with the crank?"
    tells = "Cam timing"
    judges = True

    inlet_opens = _event(
        "Inlet opening before top",
        CardFacts.cam_events.inlet_opens_before_top,
        "As the maker gives it; minus for after.",
        said="inlet {}",
    )
    inlet_closes = _event("Inlet closing after bottom", CardFacts.cam_events.inlet_closes_after_bottom, said="to {}")
    exhaust_opens = _event(
        "Exhaust opening before bottom", CardFacts.cam_events.exhaust_opens_before_bottom, said="exhaust {}"
    )
    exhaust_closes = _event("Exhaust closing after top", CardFacts.cam_events.exhaust_closes_after_top, said="to {}")
    inlet_opens_read = _measured(
        "Measured inlet opening before top", "inlet_opens_read", example="6.5", said="inlet measured {}"
    )
    inlet_closes_read = _measured(
        "Measured inlet closing after bottom", "inlet_closes_read", example="42", said="to {}"
    )
    cam_teeth = optional(
        count(
            "Teeth of the cam gear",
            8,
            200,
            why="cam gears and sprockets",
            hint="Of the gear or sprocket on the camshaft.",
            shared_as="cam_teeth",
            said="{} teeth",
        )
    )
    exhaust_opens_read = _measured(
        "Measured exhaust opening before bottom",
        "exhaust_opens_read",
        refines="The exhaust, measured as well",
        said="exhaust measured {}",
    )
    exhaust_closes_read = _measured(
        "Measured exhaust closing after top",
        "exhaust_closes_read",
        refines="The exhaust, measured as well",
        said="to {}",
    )
    cam_tolerance = asked.limit("Allowed error of the cam", 20, "3°", shared_as="cam_tolerance", said="cam ± {}")
    wheel_error = asked.wheel_error()
    wheel_read_to = asked.wheel_read_to()

    def answer(self) -> Answer:
        cam = self._cam()
        return Answer(
            headline=headline(cam),
            says=says(cam),
            drawing=drawn(cam),
            values=tuple(values(cam)),
            warnings=(IT_FIRES, *(() if cam.verdict in (None, "in") else (OUT_OF_TIME,))),
            tables=(lobes_table(cam),),
            findings=()
            if cam.late is None
            else (
                Finding(
                    key="cam",
                    what="cam behind its timing by",
                    gloss="when the valves open and shut",
                    parts=(FoundPart("", quantity(cam.late, "°"), cam.verdict),),
                    units=("°",),
                    places=1,
                    low=-self.cam_tolerance,
                    high=self.cam_tolerance,
                    limits=("cam_tolerance",),
                ),
            ),
            notes=(
                ARRIVE,
                "Cam events hold for the lift they are given at, with the lash set. At another lift the duration "
                "differs, but the lobe centre hardly does.",
            ),
        )

    def _cam(self) -> Cam:
        inlet = _valve(self._wanted(self.inlet_opens), self._wanted(self.inlet_closes), "inlet_closes")
        exhaust = _valve(self._wanted(self.exhaust_closes), self._wanted(self.exhaust_opens), "exhaust_opens")
        inlet_pair = self._read(
            (CamTiming.inlet_opens_read, self.inlet_opens_read), (CamTiming.inlet_closes_read, self.inlet_closes_read)
        )
        exhaust_pair = self._read(
            (CamTiming.exhaust_opens_read, self.exhaust_opens_read),
            (CamTiming.exhaust_closes_read, self.exhaust_closes_read),
        )
        inlet_read = exhaust_read = None
        if inlet_pair:
            opens, closes = inlet_pair
            inlet_read = _valve(opens, closes, "inlet_closes_read")
        if exhaust_pair:
            opens, closes = exhaust_pair
            exhaust_read = _valve(closes, opens, "exhaust_opens_read")
        late = cam_late(
            inlet_read.centre if inlet_read else None,
            inlet.centre,
            exhaust_read.centre if exhaust_read else None,
            exhaust.centre,
        )
        limit = magnitude_in(self.cam_tolerance, "°")
        per_tooth = tooth(self.cam_teeth) if self.cam_teeth else None
        return Cam(
            inlet=inlet,
            exhaust=exhaust,
            inlet_read=inlet_read,
            exhaust_read=exhaust_read,
            late=late,
            verdict=None if late is None else verdict_on(late, -limit, limit),
            teeth=round(best_of(late) / per_tooth) if per_tooth and late is not None else None,
            per_tooth=per_tooth,
        )

    @staticmethod
    def _wanted(event: Quantity) -> float:
        return magnitude_in(event, "°")

    def _read(
        self, opening: tuple[Entry[Any], Quantity | None], closing: tuple[Entry[Any], Quantity | None]
    ) -> tuple[Any, Any] | None:
        """Return where a valve was seen to open, before its dead centre, and to shut, after the other.

        Raises
        ------
        Lacking
            Only one of the two was typed.
        """
        (_, opens), (_, closes) = opening, closing
        if opens is None and closes is None:
            return None
        if opens is None or closes is None:
            lacking, _ = opening if opens is None else closing
            noun = lacking.label[0].lower() + lacking.label[1:]
            raise Lacking(FieldError(lacking.key, f"Enter the {noun}, in degrees"))
        before, after = read_by_instrument(
            [-opens, closes],  # as the wheel counts: what it is off by makes the one less and the other more
            "°",
            instrument="degree wheel",
            limit=self.wheel_error,
            read_to=self.wheel_read_to,
        )
        return -before, after


def _valve(at_top: Any, at_bottom: Any, box: str) -> Valve:
    open_for = duration(at_top, at_bottom)
    if best_of(open_for) < _SHORTEST:
        which = "Inlet" if box.startswith("inlet") else "Exhaust"
        message = f"{which} events must leave the valve open for 90° or more; check their signs"
        raise InputErrors(FieldError(box, message))
    return Valve(at_top, open_for, lobe_centre(at_top, open_for))
