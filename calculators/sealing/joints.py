"""The kinds of joint: what each is called, and what to mind when it is made (common practice, no source)."""

from __future__ import annotations

JOINTS = {
    "barrel_foot": ("barrel foot", "Both faces clean and dry, a thin even bead, barrel straight down."),
    "barrel_head": ("barrel in the head", "Clean seat; sealer only where the engine maker asks for it."),
    "stud": ("head stud that runs into oil", "Degrease stud thread and hole; sealer on the thread, none on the tip."),
    "tube": ("pushrod tubes", "New seals, tube seams upwards, ends smooth."),
    "cover": ("rocker covers", "Gasket glued to the cover only, dry on the head."),
    "cooler": ("oil cooler", "New seals, none forgotten in the case; nuts in small steps."),
    "pipe": ("oil pipe with hollow bolt", "New washers on both sides of the eye, the bolt's holes clear."),
    "manifold": ("inlet manifold", "Flanges flat; no sealer where the engine can draw it in."),
    "exhaust": ("exhaust flange", "New ring; no sealer that oil or heat can loosen."),
    "case": ("case joint or cover plate", "Thin bead inside of the bolt holes, none near an oilway."),
    "drain": ("drain plug or strainer plate", "New washers and gaskets, faces wiped dry."),
}
"""Kind of joint → its name, and what to mind."""
