"""A fault in a TOML file is told with the line it stands on."""

import pytest

from webapp.library.faults import NotAcceptedError
from webapp.library.page import open_page
from webapp.library.toml_lines import lines_of

TEXT = '''title = "a = b"   # c = 3
list = [
  1, # ]
  "x = 2",
]
long = """
key = 1
[table]
"""
raw = \'\'\'also = "this"\'\'\'

[tuning]
low_reps = 8
"quoted key" = 1
a.b = 2

[[warm_ups]]
reps = 10

[[warm_ups]]
inline = { reps = 3 }
reps = 11
'''


def test_each_key_is_found_on_its_line():
    lines = lines_of(TEXT)
    assert lines["title"] == 1
    assert lines["list"] == 2
    assert lines["long"] == 6
    assert lines["raw"] == 10
    assert lines["tuning"] == 12
    assert lines["tuning.low_reps"] == 13
    assert lines["tuning.quoted key"] == 14
    assert lines["tuning.a.b"] == 15
    assert lines["warm_ups[1].reps"] == 18
    assert lines["warm_ups[2].reps"] == 22


def test_what_only_looks_like_a_key_is_none():
    assert not {"key", "table", "also", "c", "x"} & set(lines_of(TEXT))


@pytest.mark.parametrize(
    ("text", "line"),
    [("a = 1\nb = outer\n", 2), ("a = 1\n\nb = \n", 3), ('a = "x\n', 1), ("a = 1\na = 2\n", 2), ("a = [1,\n2,\n", 2)],
)
def test_broken_toml_is_refused_with_its_line(tmp_path, text, line):
    path = tmp_path / "routine.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(NotAcceptedError) as caught:
        open_page(path)
    (fault,) = caught.value.faults
    assert (fault.code, fault.line, fault.file) == ("not_toml", line, str(path))


def test_a_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(NotAcceptedError) as caught:
        open_page(tmp_path / "none.toml")
    assert caught.value.faults[0].code == "cannot_be_read"
