"""Steps with a drawing: each stage shows its own, before its steps."""

import re

from calculators.bench import Answer, Drawing, Figure, Question, Stage, Step, Walk
from calculators.bench.desk import Asked
from calculators.bench.page import View, inner_html


class Turned(Question):
    """Holds always."""

    asks = "Which way?"


def stage(key, drawing):
    return Stage(title=key, steps=(Step(key=key, label=key, words=key, large=key),), drawing=drawing)


def test_a_stage_shows_its_drawing_before_its_steps():
    dial = Figure(key="dial", title="The dial", svg=Drawing(100, 100).svg("A dial."), size="half")
    walk = Walk(key="round", title="Round", stages=(stage("drawn", dial), stage("bare", None)))
    answer = Answer(headline="Right", says="Turn right.", steps=walk)
    html = inner_html(View(Asked(of=Turned, known={}, found=answer), "Any engine"))
    drawn, bare = re.findall(r'<div class="bench-stage".*?</ol>', html, re.S)
    assert drawn.index('data-figure="dial"') < drawn.index('data-step="drawn"')
    assert "q-half" in drawn
    assert "<figure" not in bare
