"""A cylinder cut open as it lies in the engine, seen from the pulley end: case to the left, head to the right."""

from __future__ import annotations

from calculators.bench import Drawing

_WALL, _FIN = 9.0, 13.0


def lying_cylinder(
    drawing: Drawing,
    *,
    case: float,
    shoulder: float,
    face: float,
    upper: float,
    lower: float,
    crown: float,
    gasket: float = 0.0,
) -> None:
    """Draw one cylinder at top dead centre: cut metal hatched, the spacers in blue, chamber and bore open.

    Parameters
    ----------
    case, shoulder, face, crown : float
        Along the cylinder, to the right: the case's face, the barrel's shoulder, the head's face, the piston's crown.
    upper, lower : float
        The two walls of the bore.
    gasket : float
        How thick the head gasket is drawn; the barrel ends short of the head by it.
    """
    middle, half = (upper + lower) / 2, (lower - upper) / 2
    far = face + 66
    chamber = [(face, upper), (face + 34, middle - 0.5 * half), (face + 34, middle + 0.5 * half), (face, lower)]
    edge = half + _WALL + _FIN
    outside = [(face, middle + edge), (far, middle + edge), (far, middle - edge), (face, middle - edge)]
    drawing.cut([*chamber, *outside], "aluminium")
    drawing.path([chamber[0], chamber[-1]], "thin")
    _piston(drawing, crown, upper + 1, lower - 1)
    for side in (-1, 1):
        inner = middle + side * half
        wall, tip = inner + side * _WALL, inner + side * (_WALL + _FIN)
        top = face - gasket
        end = case - 20
        outline = [(end, inner), (end, wall), (shoulder, wall), (shoulder, tip - side * 4)]
        outline += [(shoulder + 7, tip - side * 4), (shoulder + 7, wall)]
        pitch = (top - shoulder - 14) / 8
        for fin in range(8):
            at = shoulder + 14 + fin * pitch
            outline += [(at, wall), (at, tip), (at + 0.4 * pitch, tip), (at + 0.4 * pitch, wall)]
        outline += [(top, wall), (top, inner)]
        drawing.cut(outline, "iron")
        if gasket > 0:
            drawing.cut_box(top, min(inner, tip), gasket, _WALL + _FIN, "iron", "part")
        drawing.cut([(case, wall), (case, tip + side * 8), (case - 44, tip + side * 8), (case - 44, wall)], "aluminium")
        if shoulder > case:
            drawing.rectangle(case, min(wall, tip), shoulder - case, _FIN - 4 + 4, "spacer")


def _piston(drawing: Drawing, crown: float, upper: float, lower: float) -> None:
    long = 0.78 * (lower - upper)
    drawing.rectangle(crown - long, upper, long, lower - upper, "part", round=3)
    for ring in (8.0, 16.0, 25.0):
        for edge, end in ((upper, upper + 8), (lower, lower - 8)):
            drawing.line(crown - ring, edge, crown - ring, end, "edge")
    drawing.circle(crown - 0.62 * long, (upper + lower) / 2, 9, "part")
