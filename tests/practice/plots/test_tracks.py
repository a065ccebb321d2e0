"""Where the shapes of a plot stand: height is pain or what was asked, left to right is time."""

from dataclasses import replace
from datetime import date, timedelta

from webapp.practice.plots.course import course_plot
from webapp.practice.plots.days import PlotDay
from webapp.practice.plots.pain import HEIGHT, pain_track
from webapp.practice.plots.shapes import PlotLabel, PlotPatch, spans, spread
from webapp.practice.plots.steps import rung_track, weight_track, work_track

FIRST = date(2026, 3, 2)
CALM = PlotDay(FIRST, 2, 1, mode="training", rung=4, share=1.0, load_kg=0.5, work_j=20.0, usual=2, version=1)


def a_course(*days):
    """Days in a row from the first on, each a calm day with other values."""
    return [replace(CALM, on=FIRST + timedelta(days=number), **values) for number, values in enumerate(days)]


def test_a_column_is_as_high_as_its_morning():
    track = pain_track(a_course({"morning": 3}))
    assert track.columns == f"M0.1 12V{HEIGHT - 3}H0.58V12Z"
    assert not track.high
    assert not track.numbers


def test_a_morning_without_pain_still_shows_and_a_missing_one_does_not():
    assert pain_track(a_course({"morning": 0})).columns
    assert not pain_track(a_course({"morning": None})).columns


def test_a_column_from_six_up_is_cut_on_the_slant_and_has_its_number():
    track = pain_track(a_course({"morning": 5}, {"morning": 6}))
    assert track.columns.count("M") == 1
    assert track.high == "M1.1 12V6.6L1.58 6V12Z"
    assert [(each.value, each.across) for each in track.numbers] == [(6, 67.0)]


def test_a_ring_stands_after_its_days_column_at_the_worst_of_the_session():
    assert pain_track(a_course({"worst": 4})).rings == "M0.82 8h0"
    assert not pain_track(a_course({"worst": None})).rings


def test_sharp_pain_without_a_rating_stands_at_the_stop():
    assert pain_track(a_course({"worst": None, "is_sharp": True})).sharp == "M0.82 4h0"


def test_the_band_is_the_usual_pain_of_each_days_version():
    track = pain_track(a_course({}, {"usual": 3, "version": 2}))
    assert track.usual == "M0 12V10H1V12ZM1 12V9H2V12Z"
    assert [value for value, _ in track.ticks] == [0, 3, 6, 8]
    assert track.turns == ((0, 1), (1, 2))


def test_the_first_version_turns_where_days_before_it_are_shown():
    assert pain_track(a_course({"version": 0, "usual": None}, {})).turns == ((1, 1),)


def test_days_held_and_away_are_fields_with_a_word():
    track = pain_track(a_course({}, {"mode": "held"}, {"mode": "held"}, {"is_away": True}))
    assert track.held == (PlotPatch(25.0, 9.0, 50.0, 91.0),)
    assert track.away == (PlotPatch(75.0, 9.0, 25.0, 91.0),)
    assert [(each.across, each.value) for each in track.words] == [(50.0, "held"), (87.5, "away")]


def test_rungs_are_steps_filled_as_far_as_the_range_that_was_asked():
    track = rung_track(a_course({"rung": 2}, {"rung": 4, "share": 0.75}))
    assert track.filled == "M0 10V5.2H1V10ZM1 10V2.8H2V10Z"
    assert track.eased == (PlotPatch(50.0, 4.0, 50.0, 24.0),)
    assert track.outline == "M0 10V5.2H1V0.4H2V10"
    assert [each.value for each in track.labels] == [2, 4]


def test_a_day_of_rest_is_a_stroke_and_a_day_held_a_low_bar():
    track = rung_track(a_course({}, {"mode": "resting"}, {"mode": "held"}, {}))
    assert track.resting == "M1.2 9.6L1.8 7.6"
    assert track.held == "M2 10V9H3V10Z"
    assert track.outline == "M0 10V0.4H1V10M3 10V0.4H4V10"
    assert [each.value for each in track.labels] == [4]


def test_a_bare_hand_lies_on_the_ground():
    days = a_course({"load_kg": 0.0})
    assert weight_track(days).filled == "M0 10V10H1V10Z"
    assert weight_track(days).labels[0].value == 0.0


def test_work_is_as_high_as_its_share_of_the_most():
    assert work_track(a_course({"work_j": 10.0}, {"work_j": 20.0})).outline == "M0 10V5.2H1V0.4H2V10"


def test_words_that_would_meet_are_left_out():
    labels = [PlotLabel(0, 0, "a"), PlotLabel(3, 0, "b"), PlotLabel(6, 0, "c")]
    assert [each.value for each in spread(labels, 5)] == ["a", "c"]


def test_spans_leave_out_days_without_a_value():
    assert [
        span[:2] for span in spans(a_course({"has_sport": True}, {}, {"has_sport": True}), lambda d: d.has_sport)
    ] == [
        (0, 1),
        (2, 3),
    ]


def test_each_day_has_its_number_in_four_weeks_and_only_weeks_in_twelve():
    four, twelve = (course_plot("right", a_course(*[{}] * count)) for count in (28, 84))
    assert (len(four.numbered), len(four.weeks)) == (28, 4)
    assert (len(twelve.numbered), len(twelve.weeks)) == (0, 12)
    assert four.weeks[-1].value == four.days[-1].on


def test_the_summary_says_what_is_drawn():
    days = a_course({"morning": 7, "rung": 3}, {"morning": None, "mode": "resting"}, {"mode": "held"}, {"morning": 1})
    summary = course_plot("left", days).summary
    assert summary.mornings == (7, 2, 1)
    assert (summary.high, summary.rungs, summary.held, summary.resting) == (1, (3, 4), 1, 1)


def test_a_course_of_nothing_is_drawn_as_empty_days():
    plot = course_plot("right", [PlotDay(FIRST)])
    assert (plot.pain.columns, plot.pain.usual, plot.rung.filled, plot.sport) == ("", "", "", ())
    assert plot.summary.rungs is None
