"""The command line of the forecast: files in, answers out, every fault told at once."""

import argparse
import json
import subprocess
import sys

import pytest

from tests.rules.tree import ROOT
from webapp.forecast.command import add_parser
from webapp.forecast.progress import Bar

FILES = ["--routine", str(ROOT / "demo/routine.toml"), "--client", str(ROOT / "demo/client.toml")]
SMALL = ["--clients", "10", "--weeks", "2", "--seed", "3"]


def _run(*arguments):
    parser = argparse.ArgumentParser()
    add_parser(parser.add_subparsers(required=True))
    args = parser.parse_args(["forecast", *arguments])
    return args.command(args)


def test_a_table_comes_out_unless_something_else_is_asked_for(capsys):
    assert _run(*FILES, *SMALL) == 0
    printed = capsys.readouterr()
    assert printed.out.startswith("Simulation, not a promise.")
    assert not printed.err


def test_json_holds_the_question_and_the_answer(capsys):
    assert _run(*FILES, *SMALL, "--json") == 0
    answer = json.loads(capsys.readouterr().out)
    assert (answer["clients"], answer["weeks"], answer["seed"]) == (10, 2, 3)
    assert len(answer["kinds"]) == 3


def test_a_comparison_comes_in_both_shapes(capsys):
    assert _run(*FILES, *SMALL, "--compare", "--json") == 0
    assert "better_than_ours" in json.loads(capsys.readouterr().out)
    assert _run(*FILES, *SMALL, "--compare") == 0
    assert "1 lb a fortnight" in capsys.readouterr().out


@pytest.mark.long
def test_the_populations_come_as_a_table(capsys):
    assert _run(*FILES, *SMALL, "--populations") == 0
    assert "| report 3 points too little | " in capsys.readouterr().out


def test_a_drawing_is_not_to_be_had_of_the_populations(tmp_path, capsys):
    assert _run(*FILES, *SMALL, "--populations", "--svg", str(tmp_path / "rows.svg")) == 2
    assert "leave out --compare and --populations" in capsys.readouterr().err


def test_a_drawing_goes_to_its_file(tmp_path, capsys):
    path = tmp_path / "bands.svg"
    assert _run(*FILES, *SMALL, "--svg", str(path)) == 0
    assert path.read_text(encoding="utf-8").startswith("<svg")
    assert str(path) in capsys.readouterr().out


def test_a_drawing_that_cannot_be_written_says_why(tmp_path, capsys):
    assert _run(*FILES, *SMALL, "--svg", str(tmp_path / "nowhere" / "bands.svg")) == 2
    assert "cannot be written" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("option", "value", "sentence"),
    [
        ("--clients", "9", "--clients is 9: it must lie from 10 to 5000"),
        ("--clients", "5001", "--clients is 5001: it must lie from 10 to 5000"),
        ("--weeks", "0", "--weeks is 0: it must lie from 1 to 52"),
        ("--weeks", "2.5", "--weeks is 2.5: it must be a whole number from 1 to 52"),
        ("--weeks", "soon", "--weeks is “soon”: it must be a number from 1 to 52"),
        ("--weeks", "nan", "--weeks is nan: it must lie from 1 to 52"),
        ("--seed", "-1", "--seed is -1: it must lie from 0 to"),
        ("--goal-lb", "inf", "--goal-lb is inf: it must lie from 0 to 11"),
        ("--goal-reps", "0", "--goal-reps is 0: it must lie from 1 to 50"),
    ],
)
def test_a_bad_value_is_named_with_its_rule_and_its_range(option, value, sentence, capsys):
    assert _run(*FILES, f"{option}={value}") == 2
    heard = capsys.readouterr()
    assert sentence in heard.err
    assert not heard.out


def test_the_faults_of_files_and_options_are_told_together(tmp_path, capsys):
    routine = tmp_path / "routine.toml"
    routine.write_text('title = "x"\narea = "outer_elbow"\n[tuning]\nlow_reps = 99\n', encoding="utf-8")
    assert _run("--routine", str(routine), "--client", str(tmp_path / "none.toml"), "--weeks", "99") == 2
    printed = capsys.readouterr().err
    assert all(part in printed for part in ("low_reps is 99", "none.toml", "--weeks is 99"))


class _Terminal:
    """A stream that keeps what it is given, and says whether it is a terminal."""

    def __init__(self, tty):
        self.tty, self.heard = tty, ""

    def isatty(self):
        return self.tty

    def write(self, text):
        self.heard += text

    def flush(self):
        pass


def _ticked(tty, seconds_a_tick):
    stream, now = _Terminal(tty), [0.0]
    bar = Bar(10, stream, lambda: now[0])
    for _ in range(10):
        now[0] += seconds_a_tick
        bar.tick()
    bar.clear()
    return stream.heard


def test_the_bar_is_drawn_on_a_terminal_once_a_second_has_gone_by():
    heard = _ticked(tty=True, seconds_a_tick=0.3)
    assert "100%" in heard
    assert " 10%" not in heard
    assert heard.endswith("\r")


def test_the_bar_is_not_drawn_for_quick_work_nor_into_a_file():
    assert not _ticked(tty=True, seconds_a_tick=0.05)
    assert not _ticked(tty=False, seconds_a_tick=5.0)


def test_without_its_arrays_the_command_says_what_to_install():
    script = "import sys; sys.modules['numpy'] = None; from webapp.cli import main; sys.exit(main(sys.argv[1:]))"
    command = [sys.executable, "-c", script, "forecast", *FILES, *SMALL]
    done = subprocess.run(command, check=False, capture_output=True, text=True, cwd=ROOT)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "A forecast needs numpy, which is not installed. Install this project with its forecast extra, then run this again.\n"
    )
