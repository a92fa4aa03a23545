"""The season, what it rests on and the answers as drawings: every day, count and part is there, and no word covers another."""

from __future__ import annotations

import re
from random import Random

import pytest

from marram.evidence.telling.resting import Band, Loss, Step
from marram.evidence.telling.season import Season, SeasonColumn
from marram.records.rows import Arm
from marram.sheets.drawn.report_bars import draw_answers, draw_band, draw_key
from marram.sheets.drawn.season_drawing import draw_season
from tests.support.first_pages import answer_bar, overlaps, season_of, text_boxes

_WIDTHS = (340.0, 576.0, 940.0)


def _inside(svg: str, width: float) -> bool:
    return all(left >= -0.5 and right <= width + 0.5 for _, (left, _, right, _) in text_boxes(svg))


@pytest.mark.parametrize("width", _WIDTHS)
@pytest.mark.parametrize("pairs", [1, 5, 12, 13, 30, 90])
def test_every_day_is_a_box_and_every_pair_a_line(width: float, pairs: int) -> None:
    arms = [Arm.TRIAL, Arm.ORDINARY] * pairs
    svg = draw_season(season_of(arms), width)
    assert svg.count('class="solid edge"') == pairs
    assert svg.count('class="dense"') == pairs
    assert svg.count('class="joined"') == pairs
    boxes = [tuple(map(float, found)) for found in re.findall(r'<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="24.00"', svg)]
    assert len(set(boxes)) == 2 * pairs
    assert all(x + wide <= width + 0.01 for x, _, wide in boxes)
    assert not overlaps(text_boxes(svg))
    assert _inside(svg, width)


@pytest.mark.parametrize("width", _WIDTHS)
def test_lost_days_have_a_broken_edge_and_their_reason_where_there_is_room(width: float) -> None:
    svg = draw_season(season_of([Arm.TRIAL, Arm.ORDINARY, None, None, Arm.ORDINARY, Arm.TRIAL], "course closed"), width)
    assert svg.count('class="lost"') == 2
    assert "course closed" in [text for text, _ in text_boxes(svg)]
    assert "d02: not held, course closed" in svg


def test_reasons_drawn_by_chance_never_cover_each_other() -> None:
    chance = Random(3)
    for _ in range(100):
        arms = [chance.choice((Arm.TRIAL, Arm.ORDINARY, None)) for _ in range(2 * chance.randint(1, 30))]
        season = season_of(arms)
        columns = tuple(
            column if column.is_held else SeasonColumn(
                name=column.name, joined=column.joined, is_held=False, is_weighed=False, cells=((None,),),
                reason=chance.choice(("", "storm", "the course was closed for a match of the county " * 4, "<b>frost</b>", "عاصفة")),
            )
            for column in season.columns
        )  # fmt: skip
        season = Season(each="day", unit="day", rows=("",), joins="one pair", columns=columns, is_planned=True)
        for width in _WIDTHS:
            svg = draw_season(season, width)
            assert not overlaps(text_boxes(svg))
            assert _inside(svg, width)
            assert "<b>" not in svg


def test_many_groups_of_a_day_are_drawn_by_their_rules_and_few_singly() -> None:
    def drawn(groups: int) -> str:
        cell = (Arm.ORDINARY,) * groups + (Arm.TRIAL,) * groups
        columns = tuple(SeasonColumn(name=f"d{day}", is_held=True, is_weighed=True, cells=(cell, cell[::-1])) for day in range(4))
        return draw_season(Season(each="day", unit="group", rows=("round 1", "round 2"), joins="", columns=columns, is_planned=True), 576)

    assert drawn(5).count('class="solid edge"') == 4 * 2 * 5
    assert drawn(60).count('class="solid edge"') == 4 * 2
    assert [text for text, _ in text_boxes(drawn(5))] == ["round 1", "round 2"]


@pytest.mark.parametrize("width", _WIDTHS)
def test_a_band_is_as_high_as_what_is_left(width: float) -> None:
    steps = (
        Step(count=24, word="days planned"),
        Step(count=18, word="held", losses=(Loss(count=4, reason="storm"), Loss(count=2, reason="frost"))),
        Step(count=12, word="weighed", losses=(Loss(count=6, reason="the other day of its pair was lost"),)),
    )
    svg = draw_band(Band(steps=steps), width)
    heights = [float(found) for found in re.findall(r'height="([\d.]+)" class="solid"', svg)]
    assert [height / heights[0] for height in heights] == pytest.approx([1, 18 / 24, 12 / 24])
    assert [text for text, _ in text_boxes(svg)] == ["24 days planned", "18 held", "6 less", "12 weighed", "6 less"]
    assert not overlaps(text_boxes(svg))
    assert _inside(svg, width)


def test_long_words_of_a_band_are_cut_to_the_first_where_they_have_no_room() -> None:
    steps = (Step(count=24, word="periods of courses planned"), Step(count=24, word="held"), Step(count=24, word="weighed"))
    assert [text for text, _ in text_boxes(draw_band(Band(steps=steps), 340))] == ["24 periods", "24 held", "24 weighed"]
    assert text_boxes(draw_band(Band(steps=steps), 576))[0][0] == "24 periods of courses planned"


def test_a_band_of_nothing_is_empty() -> None:
    svg = draw_band(Band(steps=(Step(count=0, word="rows read"), Step(count=0, word="whole"), Step(count=0, word="weighed"))), 340)
    assert 'class="solid"' not in svg
    assert 'class="lost"' in svg


@pytest.mark.parametrize("counts", [(60, 97, 63, 17, 1), (0, 0, 0, 0, 9), (1, 1, 1, 1, 9999), (3, 0, 3, 0, 3), (1, 1, 1, 1, 1)])
def test_parts_are_as_wide_as_their_counts_and_the_fairest_first(counts: tuple[int, ...]) -> None:
    width, total = 340.0, sum(counts)
    svg = draw_answers(answer_bar(counts), width)
    wide = [float(found) for found in re.findall(r'<rect [^>]*width="([\d.]+)"', svg)]
    assert wide == pytest.approx([(width - 1.4) * count / total for count in reversed(counts) if count], abs=0.01)
    assert [text.replace("\u2009", "") for text, _ in text_boxes(svg)] == [str(count) for count in reversed(counts) if count]
    assert not overlaps(text_boxes(svg))
    assert _inside(svg, width)


def test_five_patterns_can_be_told_apart_without_colour() -> None:
    svg = draw_answers(answer_bar((1, 1, 1, 1, 1)), 340)
    order = ["solid edge", "dense", "sparse", "speck"]
    assert [svg.index(f'class="{kind}"') for kind in order] == sorted(svg.index(f'class="{kind}"') for kind in order)
    assert "url(#" not in svg


@pytest.mark.parametrize("width", _WIDTHS)
def test_the_key_names_all_five_within_its_width(width: float) -> None:
    svg = draw_key(width)
    assert [text for text, _ in text_boxes(svg)] == ["much fairer", "fairer", "no different", "less fair", "much less fair"]
    assert not overlaps(text_boxes(svg))
    assert _inside(svg, width)
