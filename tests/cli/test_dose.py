"""`halfturn dose`: the core, run on a diary that was typed in from paper."""

import json
from pathlib import Path

import pytest

from webapp import __version__
from webapp.cli import main

DEMO = Path(__file__).parents[2] / "demo"
GOLDEN = Path(__file__).parent
STATE_KEYS = [
    *("rung", "ease", "settled_streak", "tender_days", "gap_days", "gap_rung"),
    *("first_week_day", "first_week_stage", "pace", "rest_days", "mode", "is_unsettled"),
]
SET_KEYS = ["movement", "direction", "reps", "load_kg", "range", "work_j"]
HEADER = "on,arm,sessions,during,morning,sharp\n"
WIDE_HEADER = "on,arm,sessions,during,morning,sharp,done,release\n"


def command(on, routine=DEMO / "routine.toml", client=DEMO / "client.toml", diary=DEMO / "diary.csv"):
    return ["dose", "--routine", str(routine), "--client", str(client), "--diary", str(diary), "--on", on]


@pytest.fixture
def written(tmp_path):
    def write(name, text):
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write


def answer(capsys, *arguments, **files):
    assert main([*command(*arguments, **files), "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def refused(capsys, *arguments, **files):
    assert main(command(*arguments, **files)) == 2
    output = capsys.readouterr()
    assert output.out == ""
    return output.err.splitlines()


def test_the_demo_day_reads_as_kept(capsys):
    assert main(command("2026-03-13")) == 0
    assert capsys.readouterr().out == (GOLDEN / "demo_day.txt").read_text(encoding="utf-8")


def test_the_demo_day_as_json_reads_as_kept(capsys):
    assert answer(capsys, "2026-03-12") == json.loads((GOLDEN / "demo_day.json").read_text(encoding="utf-8"))


def test_no_line_is_wider_than_a_terminal(capsys):
    for day in range(3, 14):
        assert main(command(f"2026-03-{day:02d}")) == 0
        assert max(map(len, capsys.readouterr().out.splitlines())) <= 80


def test_the_object_has_the_promised_shape(capsys):
    day = answer(capsys, "2026-03-12")
    assert list(day) == ["on", "arms"]
    assert list(day["arms"]) == ["right", "left"]
    arm = day["arms"]["left"]
    assert list(arm) == ["response_yesterday", "state", "dose", "reasons"]
    assert list(arm["state"]) == STATE_KEYS
    assert list(arm["dose"]) == ["sessions", "sets", "warm_ups", "holds", "work_j"]
    assert [list(each) for each in arm["dose"]["sets"]] == [SET_KEYS] * 4
    assert arm["dose"]["holds"][0] == {"movement": "stretch_palm_down", "seconds": 45}


def test_without_rows_before_it_the_day_is_the_first(capsys, written):
    arm = answer(capsys, "2026-03-02", diary=written("diary.csv", HEADER))["arms"]["right"]
    assert arm["response_yesterday"] is None
    assert arm["reasons"] == ["start"]
    assert arm["state"]["first_week_day"] == 1


def test_each_arm_begins_on_the_day_of_its_first_row(capsys, written):
    diary = written("diary.csv", HEADER + "2026-03-02,right,1,1,1,no\n2026-03-04,left,1,1,1,no\n")
    arms = answer(capsys, "2026-03-05", diary=diary)["arms"]
    assert arms["right"]["state"]["first_week_day"] == 4
    assert arms["left"]["state"]["first_week_day"] == 2
    assert arms["right"]["response_yesterday"] == "missed"


def test_rows_of_the_day_itself_and_later_change_nothing(capsys, written):
    rows = HEADER + "2026-03-02,right,1,1,1,no\n"
    before = answer(capsys, "2026-03-03", diary=written("one.csv", rows))
    after = answer(capsys, "2026-03-03", diary=written("two.csv", rows + "2026-03-03,right,1,9,9,yes\n"))
    assert before == after


def test_sharp_pain_stops_the_arm_and_asks_nothing_of_it(capsys, written):
    arm = answer(capsys, "2026-03-03", diary=written("diary.csv", HEADER + "2026-03-02,right,1,2,,yes\n"))["arms"][
        "right"
    ]
    assert (arm["response_yesterday"], arm["state"]["mode"], arm["reasons"]) == ("sharp", "held", ["stop"])
    assert arm["dose"] == {"sessions": 0, "sets": [], "warm_ups": [], "holds": [], "work_j": 0.0}


def test_a_release_in_the_diary_ends_the_hold_on_the_next_day_where_it_says(capsys, written):
    rows = "2026-03-02,right,1,2,,yes,,\n2026-03-03,right,,,1,,,2@0.5\n"
    diary = written("diary.csv", WIDE_HEADER + rows)
    held = answer(capsys, "2026-03-03", diary=diary)["arms"]["right"]
    assert (held["state"]["mode"], held["dose"]["sets"]) == ("held", [])
    arm = answer(capsys, "2026-03-04", diary=diary)["arms"]["right"]
    assert (arm["state"]["mode"], arm["state"]["rung"], arm["reasons"]) == ("training", 2, ["released"])
    assert {each["range"] for each in arm["dose"]["sets"]} == {0.5}


@pytest.mark.parametrize("cell", ["2", "2@0.75", "3@1", "15@1"])
def test_a_release_gives_no_more_than_a_rung_lower_at_three_quarter_range(capsys, written, cell):
    rows = f"2026-03-02,right,1,2,,yes,,\n2026-03-03,right,,,1,,,{cell}\n"
    arm = answer(capsys, "2026-03-04", diary=written("diary.csv", WIDE_HEADER + rows))["arms"]["right"]
    assert (arm["state"]["rung"], {each["range"] for each in arm["dose"]["sets"]}) == (2, {0.75})


def test_what_was_done_of_a_day_decides_whether_it_counts_as_settled(capsys, written):
    rows = "".join(
        f"2026-03-0{day},right,1,1,1,no,{done},\n" for day, done in ((2, ""), (3, "80"), (4, "79"), (5, "0"))
    )
    diary = written("diary.csv", WIDE_HEADER + rows.replace("5,right,1,1,", "5,right,1,,"))
    days = [
        answer(capsys, f"2026-03-0{day}", diary=diary)["arms"]["right"]["response_yesterday"] for day in range(3, 7)
    ]
    assert days == ["settled", "settled", "partly", "missed"]


@pytest.mark.parametrize(
    ("cells", "shown"),
    [("1,4,", "aching"), (",,6", "flared"), ("1,6,1", "flared"), (",,4", "sore"), ("1,1,4", "tender")],
)
def test_json_names_a_day_by_the_nine_words_that_people_read(capsys, written, cells, shown):
    rows = f"2026-03-02,right,1,1,3,no\n2026-03-03,right,{cells},no\n"
    diary = written("diary.csv", HEADER + rows)
    assert answer(capsys, "2026-03-04", diary=diary)["arms"]["right"]["response_yesterday"] == shown


def test_a_start_rung_above_the_ladder_is_refused_with_its_top_named(capsys, written):
    client = (
        (DEMO / "client.toml")
        .read_text(encoding="utf-8")
        .replace("usual = 2\n", "usual = 2\nstart_rungs = { right = 50 }\n")
    )
    path = written("client.toml", client)
    fault = f"{path}: start_rungs.right is 50: it must lie from 1 to 15 (rungs)."
    assert refused(capsys, "2026-03-05", client=path) == [fault]
    assert main(["ladder", "--routine", str(DEMO / "routine.toml"), "--client", str(path)]) == 2
    assert capsys.readouterr() == ("", fault + "\n")


def test_the_highest_rung_may_be_the_first(capsys, written):
    client = (
        (DEMO / "client.toml")
        .read_text(encoding="utf-8")
        .replace("usual = 2\n", "usual = 2\nstart_rungs = { right = 15 }\n")
    )
    files = {"client": written("client.toml", client), "diary": written("diary.csv", HEADER)}
    assert answer(capsys, "2026-03-05", **files)["arms"]["right"]["state"]["rung"] == 15


def test_a_diary_with_three_faults_names_all_three_and_prints_nothing_else(capsys, written):
    rows = "2026-02-30,right,1,2,1,no\n2026-03-02,knee,1,2,1,no\n2026-03-03,right,1,11,1,no\n"
    diary = written("diary.csv", HEADER + rows)
    assert refused(capsys, "2026-03-05", diary=diary) == [
        f"{diary}, line 2: on is “2026-02-30”: it must be a day that exists, from 2000-01-01 to 2199-12-31, written YYYY-MM-DD.",
        f"{diary}, line 3: arm is “knee”: it must be one of these: right, left.",
        f"{diary}, line 4: during is “11”: it must lie from 0 to 10 (of 10).",
    ]


def test_the_faults_of_all_three_files_and_of_the_day_come_together(capsys, written):
    faults = refused(
        capsys,
        "2026-3-5",
        routine=written("routine.toml", "title = 5\narea = outer\n"),
        client=written("client.toml", "mass_kg = 6400\n"),
        diary=written("diary.csv", "on;arm\n"),
    )
    assert (
        faults[0]
        == "--on is “2026-3-5”: it must be a day that exists, from 2000-01-01 to 2199-12-31, written YYYY-MM-DD."
    )
    assert [line.partition(",")[0].rpartition("/")[2] for line in faults[1:]] == [
        "routine.toml", *["client.toml"] * 5, "diary.csv",
    ]  # fmt: skip
    assert "line 2: this is not TOML" in faults[1]


def test_files_that_are_not_there_are_named(capsys, tmp_path):
    faults = refused(capsys, "2026-03-05", routine=tmp_path / "no.toml", diary=tmp_path)
    assert [line.partition(":")[0] for line in faults] == [str(tmp_path / "no.toml"), str(tmp_path)]


def test_the_help_shows_every_file_format(capsys):
    with pytest.raises(SystemExit) as ended:
        main(["dose", "--help"])
    output = capsys.readouterr().out
    assert ended.value.code == 0
    assert all(part in output for part in (HEADER.strip(), "[[warm_ups]]", "weights_kg = [0, 0.5, 1]", "goal_reps"))


def test_the_version_is_that_of_the_package(capsys):
    with pytest.raises(SystemExit):
        main(["--version"])
    assert capsys.readouterr().out == f"halfturn {__version__}\n"


def test_a_database_in_a_folder_that_is_not_there_is_refused_in_words(capsys, tmp_path):
    assert main(["migrate"], {"HALFTURN_DB": str(tmp_path / "none" / "halfturn.db")}) == 2
    assert "its folder must exist" in capsys.readouterr().err


def test_migrate_makes_a_database_that_can_be_migrated_again(capsys, tmp_path):
    environ = {"HALFTURN_DB": str(tmp_path / "halfturn.db")}
    assert [main(["migrate"], environ), main(["migrate"], environ)] == [0, 0]
    assert (tmp_path / "halfturn.db").stat().st_size > 0
    assert capsys.readouterr().out.count("is up to date") == 2
