"""The command line speaks one of the served languages: the one that the terminal names, else the default."""

import pytest

from webapp.cli import main, read_arguments
from webapp.words import speak_at_the_terminal, words_here

OTHER = "en-XA"


@pytest.fixture(autouse=True)
def english_afterwards():
    yield
    speak_at_the_terminal({}, ("en",))


@pytest.mark.parametrize(
    ("environ", "served", "tag"),
    [
        ({}, ("en", OTHER), "en"),
        ({}, (OTHER, "en"), OTHER),
        ({"LANG": "en_XA.UTF-8"}, ("en", OTHER), OTHER),
        ({"LANG": "es_ES.UTF-8"}, ("en", "es"), "es"),
        ({"LANG": "es_ES.UTF-8"}, ("en",), "en"),
        ({"LANG": "en_GB.UTF-8", "LC_MESSAGES": "es_MX.UTF-8"}, ("en", "es"), "es"),
        ({"LANG": "es_ES.UTF-8", "LC_ALL": "en_GB.UTF-8"}, ("es", "en"), "en"),
        ({"LANG": "C.UTF-8"}, ("en", "es"), "en"),
        ({"LANG": "../../x" * 99}, ("en", "es"), "en"),
    ],
)
def test_the_terminal_names_the_language_among_the_served_ones(environ, served, tag):
    speak_at_the_terminal(environ, served)
    assert words_here().locale == tag


def test_a_fault_is_told_in_the_language_of_the_terminal(tmp_path, capsys):
    environ = {"HALFTURN_DB": str(tmp_path / "none.db"), "HALFTURN_LOCALES": f"en,{OTHER}", "LC_ALL": "en_XA.UTF-8"}
    assert main(["check"], environ) == 2
    assert capsys.readouterr().err.startswith("[")


def test_a_language_that_is_not_installed_is_refused_before_anything_is_served(tmp_path, capsys):
    environ = {"HALFTURN_DB": str(tmp_path / "none.db"), "HALFTURN_LOCALES": "en,tlh,xx"}
    assert main(["serve"], environ) == 2
    assert "HALFTURN_LOCALES names a language that is not installed: tlh, xx." in capsys.readouterr().err


def test_help_is_english_where_nothing_says_otherwise(capsys):
    with pytest.raises(SystemExit):
        read_arguments(["--help"])
    assert "Halfturn: daily wrist work at home" in capsys.readouterr().out
