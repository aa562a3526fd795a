"""Python is killed at random while it answers: no answer is lost, and none is another's."""

from __future__ import annotations

import json
import random
from typing import Any

from calculators.browser import answer_message
from tests.attempts import Attempts
from tests.bad_input import SEED
from tests.cards import MARRAM
from tests.examples import IS_NIGHT
from tests.site.conftest import module

PAGE = "/work-it-out/torque/"
ANSWERS, KILLED = (1_000, 10) if IS_NIGHT else (8, 4)  # one in so many
TEXTS = [f"{30 + step / 4:g}" for step in range(40)]
KEEP_WORKERS = """
window.workersMade = [];
window.Worker = class extends Worker { constructor(...given) { super(...given); workersMade.push(this); } };
"""
# One question after the other; some lose their worker on the way: it is ended at once, as a browser short of memory
# ends it, and says so as a trap or an error in it would.
ASK_ON = """
async ([address, name, asked, plan]) => {
  const { ask, history } = await import(address);
  const kill = (worker, how) => {
    worker.terminate();
    if (how === "trap") worker.dispatchEvent(new MessageEvent("message", { data: { dead: "killed" } }));
    else worker.dispatchEvent(new ErrorEvent("error", { message: "killed", cancelable: true }));
  };
  const said = [];
  for (const { text, killed, late } of plan) {
    const answer = ask({ ...asked, card: asked.card.name, readings: { [name]: { text } } });
    const worker = workersMade.at(-1);
    if (killed) setTimeout(() => worker === workersMade.at(-1) && kill(worker, killed), late);
    said.push(await answer.then((one) => JSON.stringify(one), (error) => `refused: ${error.message}`));
  }
  return [said, history.setbacks, workersMade.length];
}
"""
MODULE = module("python")


def host(asked: dict[str, Any], text: str) -> Any:
    return json.loads(answer_message(json.dumps(asked | {"readings": {"head_torque": {"text": text}}})))


def test_killed_at_random_it_answers_all_that_was_asked(open_page, address, attempts: Attempts, said):
    seed = random.SystemRandom().randrange(10**9) if IS_NIGHT else SEED
    pick = random.Random(seed)  # noqa: S311
    plan = [
        {
            "text": pick.choice(TEXTS),
            "killed": pick.choice(("trap", "error")) if step % KILLED == KILLED // 2 else "",
            "late": pick.choice((0, 0, 1, 3, 10)),  # ms
        }
        for step in range(ANSWERS)
    ]
    wanted = [{"name": "torque.wrench", "opened": [], "rows": {}, "whole": False}]
    card = {"name": MARRAM.name, "data": MARRAM.data}
    asked = {"want": "questions", "questions": wanted, "quotes": [], "card": card, "example": True}
    page = open_page(None, expect_complaints=True)
    page.add_init_script(KEEP_WORKERS)
    page.goto(address + PAGE)
    page.wait_for_selector("bench-question:defined")
    answers, setbacks, workers = page.evaluate(ASK_ON, [page.evaluate(MODULE), "head_torque", asked, plan])
    expected = {text: host(asked, text) for text in {one["text"] for one in plan}}
    for one, answer in zip(plan, answers, strict=True):
        wrong = (
            answer if answer.startswith("refused") else "" if json.loads(answer) == expected[one["text"]] else "other"
        )
        attempts.count("answers of a Python that is killed", *([f"seed {seed}: {one}: {wrong}"] if wrong else []))
    assert set(setbacks) <= {"snapshot: killed", "stock: killed"}
    assert workers > 1
    said(f"Python killed: {ANSWERS:,} answers by {workers} workers, {len(setbacks)} killed")
