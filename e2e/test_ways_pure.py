"""The phone's own arithmetic of a session, run in the browser: gates at one's own pace, what is eased, which voice."""

import pytest

from e2e.test_lookup import bundle_of, plan_of

REPS = {"kind": "reps", "movement": "palm_down", "up": 2, "down": 3, "range": 1, "arm": "right"}
REST = {"kind": "rest", "movement": "palm_up", "seconds": 20, "reps": 0, "up": 0, "down": 0, "range": 1, "arm": "right"}
LONG_AFTER = 1_000_000_000
PLAYED = f"""async ({{ at, steps, acts }}) => {{
  const {{ happen, newSession, placeAt }} = await import(`${{at}}pure/player.js`);
  const start = happen(steps, newSession(), {{ kind: "start", mono: 0 }});
  const end = acts.reduce((session, mono) => happen(steps, session, {{ kind: "rep", mono }}), start);
  return {{ ...end, place: placeAt(steps, end, {LONG_AFTER}) }};
}}"""
EASED = """async ({ at, bundle, plan, whats, rep }) => {
  const { eased, easings } = await import(`${at}pure/easing.js`);
  const after = whats.reduce((now, what) => eased(bundle, now, 0, what, rep), plan);
  return { steps: after.steps, open: easings(bundle, after, 0) };
}"""
PICKED = """async ({ at, voices, tags }) => {
  const { pickVoice } = await import(`${at}edges/voice.js`);
  return pickVoice(voices, tags)?.name ?? null;
}"""


@pytest.fixture(scope="module")
def run(page, scripts):
    """Runs a function in the page with what it is given, and where this build's scripts lie."""
    return lambda script, **given: page.evaluate(script, {"at": scripts, **given})


@pytest.fixture(scope="module")
def bundle():
    return bundle_of(plan_of("a man with pounds"))


def reps(count, **other):
    return {**REPS, "reps": count, "seconds": count * 5, **other}


def test_at_ones_own_pace_time_stands_still_until_a_rep_is_said_to_be_done(run):
    steps = [reps(3, isGated=True), REST]
    assert run(PLAYED, steps=steps, acts=[])["place"] == 4999
    waits = run(PLAYED, steps=steps, acts=[60_000, 61_000])
    assert (waits["place"], waits["done"], waits["begun"], waits["workedMs"]) == (14_999, [], [0], 61_000)
    over = run(PLAYED, steps=steps, acts=[60_000, 61_000, 62_000])
    assert (over["atMs"], over["done"], over["place"]) == (15_000, [0], 35_000)


def test_a_rep_said_to_be_done_in_a_rest_changes_nothing(run):
    assert run(PLAYED, steps=[REST, reps(3, isGated=True)], acts=[4000])["atMs"] == 4000


def test_without_gates_time_runs_to_the_end(run):
    assert run(PLAYED, steps=[reps(3), REST], acts=[])["place"] == 35_000


def heaviest(bundle):
    """The dose of the heaviest weight at full range, and a plan that begins with its first set, for two arms."""
    dose = max((one for one in bundle["doses"] if one["sets"]), key=lambda one: heaviness(one["sets"][0]))
    own = dose["sets"][0]
    step = reps(own["reps"], movement=own["movement"], load_kg=own["load_kg"], load=own["load"])
    arms = [{"arm": arm, "dose": dose} for arm in ("right", "left")]
    return own, {"arms": arms, "steps": [step, {**step, "arm": "left"}]}


def heaviness(one):
    return one["load_kg"], one["range"], one["reps"]


def test_each_easing_takes_the_next_smaller_that_some_dose_asks_and_spares_the_other_arm(run, bundle):
    own, plan = heaviest(bundle)
    told = run(EASED, bundle=bundle, plan=plan, whats=["range", "load", "reps"], rep=0)
    right, left = told["steps"]
    loads = {one["load_kg"] for dose in bundle["doses"] for one in dose["sets"]}
    assert right["range"] == 0.75
    assert right["load_kg"] == max(load for load in loads if load < own["load_kg"])
    assert right["reps"] < own["reps"]
    assert right["seconds"] == right["reps"] * 5
    assert left == plan["steps"][1]


def test_what_cannot_be_eased_further_is_not_offered(run, bundle):
    _, plan = heaviest(bundle)
    assert run(EASED, bundle=bundle, plan=plan, whats=[], rep=0)["open"] == ["form", "range", "load", "reps", "leave"]
    everything = ["range", "range", "load", "load", "reps"]
    assert run(EASED, bundle=bundle, plan=plan, whats=everything, rep=0)["open"] == ["form", "leave"]


def test_fewer_reps_still_finish_the_rep_that_is_on(run, bundle):
    own, plan = heaviest(bundle)
    nearly = own["reps"] - 1
    assert run(EASED, bundle=bundle, plan=plan, whats=["reps"], rep=nearly)["steps"][0]["reps"] == nearly


def voice(lang, local=True, default=False):
    return {"lang": lang, "localService": local, "default": default, "name": f"{lang} {local}"}


@pytest.mark.parametrize(
    ("voices", "picked"),
    [
        ([voice("en-US"), voice("en_GB")], "en_GB True"),
        ([voice("en-GB", local=False), voice("en-US")], "en-US True"),
        ([voice("en-AU"), voice("en-US", default=True)], "en-US True"),
        ([voice("de-DE", default=True)], None),
        ([voice("en-GB", local=False)], None),
        ([], None),
    ],
)
def test_a_voice_is_of_the_language_and_on_the_phone_itself(run, voices, picked):
    assert run(PICKED, voices=voices, tags=["de-DE", "en-GB", "en"]) == picked
