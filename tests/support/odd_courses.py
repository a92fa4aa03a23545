"""Odd courses for tests: a small sound course of three holes on which odd things lie, as a course file holds them.

Nothing of the package is used here, so that whoever checks it may start from the same ground. What can lie there is in
``tests.support.odd_ground`` (on the ground) and ``tests.support.odd_surveys`` (what the survey itself lacks or says twice).
"""

from __future__ import annotations

import random
from collections.abc import Sequence

from tests.support.odd_ground import ON_THE_GROUND
from tests.support.odd_survey import Survey
from tests.support.odd_surveys import OF_THE_SURVEY

_PLACES_M = tuple((x_m, y_m) for y_m in (-70.0, 0.0, 70.0) for x_m in (0.0, 90.0, 180.0))
"""Middles of the ground on which odd things are laid: on each of the three lines of play."""
_SURVEY_EVERY = 5
"""One course in so many has an odd survey as well."""


def odd_course(seed: int, oddities: Sequence[str] | None = None) -> dict[str, object]:
    """An odd course as a GeoJSON FeatureCollection in the format of docs/formats/course.md.

    Three holes of about 300 m run north, south and north beside each other, 90 m apart, within a boundary of 300 m by 400 m;
    about the middle of the course is the origin of its metric frame. On it lie three to six odd things, each on a place of its own
    and turned at random: the first by the seed's turn, so that as many seeds in a row as there are oddities show each of them.

    Args:
        seed: Any whole number; the same seed gives the same course to the last digit.
        oddities: Names of ``ON_THE_GROUND`` and ``OF_THE_SURVEY`` to lay there in place of those that the seed chooses; an empty list
            leaves the sound course.

    Returns:
        The collection, ready for ``json.dumps``. Its member ``course`` lists the names in ``oddities``. Coordinates lie on whole
        millimetres of the frame (transverse Mercator about ``origin``, scale 1, GRS 80), written with ten decimals of a degree.
        The file is one that the package is meant to accept; ruling may still be stopped where a boundary, green or hole location lacks.
    """
    rng = random.Random(f"odd-course-{seed}")
    names = _chosen(seed, rng) if oddities is None else tuple(oddities)
    survey = Survey(rng, name=f"Odd Ground {seed}", origin=(rng.uniform(-170, 170), rng.uniform(-60, 60)))
    places = rng.sample(_PLACES_M, k=len(_PLACES_M))
    for number, name in enumerate(name for name in names if name in ON_THE_GROUND):
        survey.go_to(*places[number % len(places)])
        ON_THE_GROUND[name](survey)
    for name in names:
        if name in OF_THE_SURVEY:
            OF_THE_SURVEY[name](survey)
    return survey.collection(names)


def _chosen(seed: int, rng: random.Random) -> tuple[str, ...]:
    ground = list(ON_THE_GROUND)
    first = ground.pop(seed % len(ground))
    chosen = [first, *rng.sample(ground, k=rng.randint(2, 5))]
    if seed % _SURVEY_EVERY == _SURVEY_EVERY - 1:
        surveys = list(OF_THE_SURVEY)
        chosen.append(surveys[seed // _SURVEY_EVERY % len(surveys)])
    return tuple(chosen)
