"""Every answer says what it is, how to get it again, and what it stands on."""

import json
import tomllib
from xml.etree import ElementTree as ET

import pytest

from tests.forecast.people import plan
from webapp.config import content_dir
from webapp.forecast.bands import SUBJECTS
from webapp.forecast.drawing import draw_bands
from webapp.forecast.figures import every_figure
from webapp.forecast.fixed_plans import FIXED_PLANS
from webapp.forecast.question import Goal, Question
from webapp.forecast.report import COMPARISON, FORECAST, comparison, forecast
from webapp.forecast.table import bands_text, compared_text
from webapp.words import pseudo_words, words_for

ASKED = Question(weeks=6, clients=20, seed=4)
SENTENCE = "Simulation, not a promise."


@pytest.fixture(scope="module")
def answer():
    return forecast(plan(), ASKED, words_for())


@pytest.fixture(scope="module")
def compared():
    return comparison(plan(), ASKED, words_for())


def test_every_shape_of_answer_says_that_it_is_a_simulation(answer, compared):
    shapes = [json.dumps(answer), json.dumps(compared), draw_bands(words_for(), answer)]
    shapes += [bands_text(words_for(), answer), compared_text(words_for(), compared)]
    assert all(SENTENCE in shape for shape in shapes)


def test_every_shape_of_answer_names_the_seed(answer, compared):
    assert answer["seed"] == compared["seed"] == 4
    shapes = [draw_bands(words_for(), answer), bands_text(words_for(), answer), compared_text(words_for(), compared)]
    assert all("seed 4 (PCG64)" in shape for shape in shapes)


@pytest.mark.long
def test_the_same_question_has_the_same_answer(answer):
    assert forecast(plan(), ASKED, words_for()) == answer
    assert forecast(plan(), ASKED._replace(seed=5), words_for())["kinds"] != answer["kinds"]


def test_every_kind_has_a_band_for_every_week_and_subject(answer):
    assert [kind["kind"] for kind in answer["kinds"]] == ["fragile", "middling", "robust"]
    for kind in answer["kinds"]:
        assert [row["week"] for row in kind["weeks"]] == list(range(1, 7))
        for row in kind["weeks"]:
            assert all(low <= middle <= high for low, middle, high in (row[subject] for subject in SUBJECTS))


def test_an_answer_is_plain_json_without_infinities(answer, compared):
    for each in (answer, compared):
        assert json.loads(json.dumps(each, allow_nan=False)) == each


def test_every_figure_is_told_with_a_source_that_is_listed(answer):
    listed = set(tomllib.loads((content_dir() / "sources.toml").read_text(encoding="utf-8")))
    assert set(answer["figures"]) == set(every_figure())
    assert {figure.source for figure in every_figure().values()} <= listed
    assert {plan.source for plan in FIXED_PLANS} <= listed


def test_what_is_invented_is_marked_as_our_own_choice():
    invented = [figure for name, figure in every_figure().items() if "." in name]
    assert len(invented) == 12
    assert {figure.source for figure in invented} == {"own-choice"}


def test_a_goal_beyond_the_ladder_is_said_to_be_so(answer):
    far = forecast(plan(), ASKED._replace(goal=Goal(11, 50)), words_for())
    assert answer["goal"]["within_ladder"]
    assert not far["goal"]["within_ladder"]
    assert "the ladder ends below the goal" in " ".join(bands_text(words_for(), far).split())


def test_the_tables_fit_eighty_columns(answer, compared):
    lines = bands_text(words_for(), answer).splitlines() + compared_text(words_for(), compared).splitlines()
    assert max(map(len, lines)) <= 80


def test_the_drawing_is_a_picture_that_asks_for_nothing_from_outside(answer):
    drawing = draw_bands(words_for(), answer)
    sheet = ET.fromstring(drawing)  # noqa: S314 - our own drawing
    assert len(sheet.findall(".//{*}polygon")) == 3 * len(SUBJECTS)
    assert "href" not in drawing
    assert "url(" not in drawing


def test_every_word_of_the_drawing_comes_from_the_catalogue():
    answer = forecast(plan(), ASKED, pseudo_words())
    sheet = ET.fromstring(draw_bands(pseudo_words(), answer))  # noqa: S314 - our own drawing
    texts = [node.text for node in sheet.iter("{http://www.w3.org/2000/svg}text")]
    lettered = [text for text in texts if any(letter.isalpha() for letter in text)]
    assert lettered
    assert all("[" in text or "]" in text for text in lettered[:-2])


@pytest.mark.long
def test_the_ticks_told_ahead_are_the_ticks_that_come():
    for answer in (FORECAST, COMPARISON):
        heard = []
        answer.work_out(plan(), ASKED, words_for(), lambda: heard.append(1))  # noqa: B023 - called within the round
        assert len(heard) == answer.ticks(ASKED)
