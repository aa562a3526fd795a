"""The lash turn plan, as a reader meets it on the built pages."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.site.conftest import PHONE, answered, calculator, corrected, fill, sizes

PAGE = "/calculators/lash-turn-plan/"


def column(page, label: str) -> list[str]:
    return calculator(page).locator(f'[data-table="stops"] td[data-label="{label}"]').all_inner_texts()


@sizes
def test_turns_a_typed_flat_four_backwards_through_1_2_3_4(open_page, size):
    """Common practice, no source: firing 1-4-3-2, backwards by half turns, comes to 1, 2, 3, 4; 4 thou is 0.10 mm."""
    page = open_page(PAGE, size)
    fill(
        page,
        firing_order="1-4-3-2",
        turning="backwards",
        inlet_clearance="4",
        inlet_clearance__unit="thou",
        exhaust_clearance="0,15",
    )
    answered(page)
    assert column(page, "Set the valves of cylinder")[:4] == ["1", "2", "3", "4"]
    expect(calculator(page).locator('[data-value="inlet_blades"] .bench-number').first).to_contain_text("0.10 mm")
    expect(calculator(page).locator('[data-value="exhaust_blades"] .bench-number').first).to_contain_text("0.15 mm")
    expect(calculator(page).locator(".bench-half .bench-drawing")).to_have_count(4)


@sizes
def test_plans_an_engine_that_no_card_here_knows(open_page, size):
    """Common practice, no source: an inline-six fires 1-5-3-6-2-4, a third of a turn apart."""
    page = open_page(PAGE, size)
    fill(page, cylinders="6", banks="1 2 3 4 5 6", firing_order="1 5 3 6 2 4", firing_intervals="", turning="forwards")
    answered(page)
    assert column(page, "Set the valves of cylinder")[:6] == ["1", "5", "3", "6", "2", "4"]
    expect(calculator(page).locator(".bench-half .bench-drawing")).to_have_count(6)


def test_says_which_entry_is_wrong_and_why(open_page):
    page = open_page(PAGE, PHONE)
    twice = "Firing order must name each cylinder from 1 to 4 once; 3 is missing and 2 comes twice"
    corrected(page, {"firing_order": "1 4 2 2"}, "firing_order", twice)
    corrected(page, {"inlet_clearance": ""}, "inlet_clearance", "Enter the inlet clearance, in millimetres")
    short = "Firing intervals must add up to 720°, not 700°"
    corrected(page, {"firing_intervals": "180 180 180 160"}, "firing_intervals", short)
