"""The rooms of torque and compression, typed into as at the bench."""

from playwright.sync_api import expect

from tests.site.conftest import DESK, OPENED, PHONE, UNFOLD, kept_job, resized, sizes, until

TORQUE, COMPRESSION = "/work-it-out/torque/", "/work-it-out/compression/"


def question(page, name):
    return page.locator(f"#q-{name.replace('.', '-')}")


def with_a_card(open_page, address, size):
    """Open the room of torque with an engine of one's own in hand, of which the card knows only the layout."""
    page = open_page("/job/", size)
    page.locator("#job-card").select_option("layout-single")
    page.goto(address + TORQUE)
    return page


def type_into(asked, **texts):
    """Type into boxes by their keys, ``__`` for the point in ``chamber.2``; their folds are opened first."""
    expect(asked.locator(".bench-not-running")).to_have_count(0)  # from here on a press is heard at once, and once
    until(asked.page, lambda: asked.evaluate(OPENED))
    for key, text in texts.items():
        selector = f'[name="{key.replace("__", ".")}"]'
        box = asked.locator(selector)
        expect(box).to_be_attached()
        asked.evaluate(UNFOLD, selector)
        if box.evaluate("box => box.tagName") == "SELECT":
            box.select_option(text)
        else:
            box.fill(text)


def says(asked, words):
    expect(asked.locator(".q-headline")).to_contain_text(words)


def test_pound_feet_are_answered_for_a_newton_metre_wrench(open_page):
    page = open_page(TORQUE)
    wrench = question(page, "torque.wrench")
    for size in (DESK, PHONE):
        resized(page, size)
        type_into(wrench, target="27 lbf·ft", graduation="0.5 N·m", passes="4", pattern="8")
        # NIST SP 811 (2008) B.8: 27 lbf·ft = 36.607 N·m; quarters of it to the nearest half newton metre
        says(wrench, "9.0 → 18.5 → 27.5 → 36.5 N·m")
        expect(wrench.locator('[data-box="target"] .q-read')).to_contain_text("36.607 N·m")
        type_into(wrench, target="20", passes="2")
        expect(wrench.locator(".q-headline")).not_to_contain_text("36.5 N·m")


def test_from_the_books_pound_feet_to_the_click(open_page):
    page = open_page(TORQUE)
    wrench = question(page, "torque.wrench")
    for size in (DESK, PHONE):
        resized(page, size)
        type_into(wrench, target="25 lbf·ft", graduation="0.5 N·m", passes="2", pattern="8")
        says(wrench, "17.0 → 34.0 N·m")
        type_into(wrench, extension="60", angle="30", wrench_length="300")
        # by hand: 25 × 1.355 818 (NIST SP 811 (2008), B.8) × 300 ÷ (300 + 60 cos 30°) = 28.891 N·m; half of it 14.446
        says(wrench, "14.5 → 29.0 N·m")
        expect(wrench.locator('[data-fold^="figure wrench"]')).to_have_count(1)
        type_into(wrench, extension="", angle="", wrench_length="")


def test_a_pass_that_the_wrench_cannot_be_trusted_with_is_refused_beside_its_box(open_page):
    wrench = question(open_page(TORQUE, PHONE), "torque.wrench")
    type_into(wrench, wrench_high="60")
    expect(wrench.locator('[data-box="passes"] .q-error')).to_contain_text(
        "Below 12.0 N·m, 20% of its highest setting, the wrench may not be accurate. Take 2 passes"
    )
    expect(wrench.locator(".q-headline")).to_be_empty()


def test_typed_positions_grow_a_row_at_a_time(open_page, address):
    order = question(with_a_card(open_page, address, PHONE), "torque.stud_order")
    type_into(order, across__1="-40", up__1="40")
    type_into(order, across__2="40", up__2="-40")
    says(order, "A – B")
    expect(order.locator('[name="across.3"]')).to_be_visible()
    expect(order.locator('[name="across.4"]')).to_be_hidden()


@sizes
def test_the_second_head_is_ticked_without_the_first_losing_a_tick(open_page, address, size):
    page = with_a_card(open_page, address, size)
    wrench = question(page, "torque.wrench")
    type_into(wrench, target="34", pattern="8", heads="2")
    says(wrench, "11 → 23 → 34 N·m")
    one, other = (wrench.locator(f'[data-fold="steps head_{head}"]') for head in (1, 2))
    for head, ticks in ((one, 3), (other, 2)):
        head.locator("summary").first.click()
        for place in range(ticks):
            head.locator("[data-step]").nth(place).check()
    expect(one.locator(":checked")).to_have_count(3)
    page.reload()
    expect(one.locator(":checked")).to_have_count(3)
    expect(other.locator(":checked")).to_have_count(2)
    kept = {walk.rpartition(" ")[2]: len(ticks) for walk, ticks in kept_job(page)["ticks"].items()}
    assert kept == {"head_1": 3, "head_2": 2}


FLAT = {f"crown__{row}": "0" for row in range(1, 5)}
SQUARE = {"bore": "86", "stroke": "86", "target": "10.5"} | {f"deck__{row}": "0" for row in range(1, 5)} | FLAT


def test_the_spacer_is_found_for_typed_readings(open_page):
    """Identity: 86 × 86 sweeps 499.557 cm³; 46.776 cm³ and 1 mm of bore (5.809 cm³) make 10.5 : 1."""
    page = open_page(COMPRESSION)
    spacers = question(page, "compression.spacers")
    type_into(spacers, **SQUARE, **{f"chamber__{row}": "46.776" for row in range(1, 5)})
    spacers.locator('[data-fold="table cylinders"] summary').first.click()
    for size in (DESK, PHONE):
        resized(page, size)
        type_into(spacers, target="10.5")
        says(spacers, "1.00 mm under every barrel")
        ratios = spacers.locator('[data-fold="table cylinders"] tbody tr')
        expect(ratios).to_have_count(4)
        for row in range(4):
            expect(ratios.nth(row)).to_contain_text("10.50")
        type_into(spacers, target="9.5")
        expect(spacers.locator(".q-headline")).not_to_contain_text("1.00 mm")


def test_an_impossible_ratio_still_shows_what_comes_nearest(open_page):
    spacers = question(open_page(COMPRESSION), "compression.spacers")
    type_into(spacers, target="9")
    says(spacers, "9 : 1 out of reach; nearest 7.7")


def test_fewer_cylinders_hide_their_readings_and_more_bring_them_back(open_page):
    ratio = question(open_page(COMPRESSION), "compression.ratio")
    type_into(ratio, chamber__4="48.9", cylinders="2")
    expect(ratio.locator('[name="chamber.4"]')).to_be_hidden()
    type_into(ratio, cylinders="6")
    expect(ratio.locator('[name="chamber.6"]')).to_be_visible()
    expect(ratio.locator('[name="chamber.4"]')).to_have_value("48.9")


def test_a_column_is_read_in_the_unit_that_was_chosen_over_it(open_page):
    ratio = question(open_page(COMPRESSION), "compression.ratio")
    two = {
        f"{key}__{row}": text for row in (1, 2) for key, text in (("chamber", "49"), ("crown", "0"), ("spacer", "1"))
    }
    type_into(ratio, cylinders="2", bore="80", stroke="74", **two)
    ratio.locator('[data-unit-of="deck"]').first.select_option("thou")
    type_into(ratio, deck__1="16", deck__2="18")
    # by hand: 16 thou = 0.4064 mm, 18 thou = 0.4572 mm (NIST SP 811, B.8); with 1 mm of spacer 56.069 and 56.325 cm³
    says(ratio, "7.60 to 7.63 : 1")
