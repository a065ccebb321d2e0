"""The page of the looks: it shows what the sheets hold, in both themes, and it writes over nobody's files."""

import re

import pytest

from webapp.cli import main
from webapp.looks.page import tokens_of
from webapp.packing import sources_dir

TOKENS = (sources_dir() / "css/tokens.css").read_text(encoding="utf-8")


@pytest.fixture
def written(tmp_path, capsys):
    assert main(["looks", str(tmp_path / "looks")]) == 0
    assert "looks.html" in capsys.readouterr().out
    return tmp_path / "looks"


def test_every_colour_is_shown_by_day_and_by_night(written):
    page = (written / "looks.html").read_text(encoding="utf-8")
    for name, tokens in zip(("day", "night"), tokens_of(TOKENS), strict=True):
        section = page.partition(f'<section class="{name}"')[2].partition("</section>")[0]
        shown = dict(re.findall(r"</i>([\w-]+)<br><small>(#\w+)</small>", section))
        assert shown == {token: value for token, value in tokens.items() if value.startswith("#")}


def test_the_page_finds_its_sheets_and_its_type(written):
    assert (written / "desk/desk.css").is_file()
    assert (written / "css/tokens.css").is_file()
    assert list((written / "fonts").glob("*.woff2"))


def test_a_second_time_it_is_written_anew(written):
    assert main(["looks", str(written)]) == 0


def test_a_folder_with_other_files_is_left_alone(tmp_path, capsys):
    (tmp_path / "letter.txt").write_text("mine", encoding="utf-8")
    assert main(["looks", str(tmp_path)]) == 2
    assert "name a new folder" in capsys.readouterr().err
    assert [each.name for each in tmp_path.iterdir()] == ["letter.txt"]
