"""What browsers fetch is packed from the sources: whole, once, and safely for servers that start at the same time."""

import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from urllib.parse import urljoin

import pytest

from tests.rules.tree import ROOT
from webapp.client.assets import read_assets
from webapp.packing import KEPT_ON_THE_SHELF, PackingError, packed

AT_ONCE = 4


@pytest.fixture
def sources(tmp_path):
    """A small tree: an entry with an import, a sheet with one, a picture, and a hidden file."""
    files = {
        "js/main.js": '/** What it is. */\nimport { word } from "./day/word.js";\nself.said = word();\n',
        "js/day/word.js": '/** A word. */\nexport const word = () => "day";\n',
        "css/phone.css": '@import "./paper.css";\n.day { color: red; }\n',
        "css/paper.css": "/* Paper. */\n.paper { color: blue; }\n",
        "icons/one.svg": "<svg/>",
        ".hidden/note.txt": "not served",
    }
    for name, text in files.items():
        path = tmp_path / "sources" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path / "sources"


@pytest.fixture
def shelf(tmp_path):
    return tmp_path / "shelf"


def test_an_entry_holds_what_it_imports_and_pictures_go_as_they_are(sources, shelf):
    made = packed(sources, shelf)
    served = {path.relative_to(made).as_posix(): path.read_text() for path in made.rglob("*") if path.is_file()}
    assert set(served) == {"js/main.js", "css/phone.css", "icons/one.svg"}
    assert '"day"' in served["js/main.js"]
    assert "import" not in served["js/main.js"]
    assert "What it is" not in served["js/main.js"]
    assert served["css/phone.css"].index(".paper") < served["css/phone.css"].index(".day")
    assert served["icons/one.svg"] == "<svg/>"


def test_a_sheet_keeps_every_rule_as_it_was_written(sources, shelf):
    # The specificity of :is() is that of its strongest argument (Selectors Level 4); a prefixed form has another one.
    rule = ".day :is(ul, p) { inset: 0; color-scheme: light dark; }\n"
    (sources / "css/paper.css").write_text(rule, encoding="utf-8")
    made = packed(sources, shelf)
    assert (made / "css/phone.css").read_text(encoding="utf-8") == f"{rule}\n.day {{ color: red; }}\n"


def test_a_sheet_that_is_imported_and_not_there_is_named(sources, shelf):
    (sources / "css/paper.css").unlink()
    with pytest.raises(PackingError, match=r"paper\.css is imported by another sheet, and is not there"):
        packed(sources, shelf)


def test_a_font_has_the_address_of_its_bytes_from_wherever_the_sheet_is_served(sources, shelf):
    (sources / "fonts").mkdir()
    (sources / "fonts/plain.woff2").write_bytes(b"letters")
    (sources / "css/paper.css").write_text('@font-face { src: url("../fonts/plain.woff2"); }\n', encoding="utf-8")
    made = packed(sources, shelf)
    named = re.search(r'url\("([^"]+)"\)', (made / "css/phone.css").read_text(encoding="utf-8"))[1]
    served = read_assets(made)
    assert urljoin(served.url("css/phone.css"), named) == served.url("fonts/plain.woff2")


def test_a_font_that_a_sheet_names_and_is_not_there_is_named(sources, shelf):
    (sources / "css/paper.css").write_text('@font-face { src: url("../fonts/plain.woff2"); }\n', encoding="utf-8")
    with pytest.raises(PackingError, match=r"plain\.woff2 is named by a sheet, and is not there"):
        packed(sources, shelf)


def test_the_source_maps_lie_beside_what_is_served(sources, shelf):
    made = packed(sources, shelf)
    assert "word.js" in (made.parent / "maps/js/main.js.map").read_text(encoding="utf-8")


def test_the_same_sources_are_packed_once_and_changed_ones_anew(sources, shelf):
    made = packed(sources, shelf)
    (made / "seen").touch()
    assert packed(sources, shelf) == made
    assert (made / "seen").exists()
    with (sources / "js/day/word.js").open("a", encoding="utf-8") as script:
        script.write("// more\n")
    assert packed(sources, shelf) != made


def test_servers_that_start_at_once_all_get_whole_files(sources, shelf):
    with ThreadPoolExecutor(AT_ONCE) as servers:
        made = set(servers.map(lambda _: packed(sources, shelf), range(AT_ONCE)))
    assert len(made) == 1
    assert (made.pop() / "icons/one.svg").is_file()
    assert len(list(shelf.iterdir())) == 1


def test_old_packed_folders_are_dropped(sources, shelf):
    for number in range(KEPT_ON_THE_SHELF + 2):
        (sources / "icons/one.svg").write_text(f"<svg>{number}</svg>")
        made = packed(sources, shelf)
    assert len(list(shelf.iterdir())) == KEPT_ON_THE_SHELF
    assert made.is_dir()


def test_a_fault_in_a_script_names_it_and_leaves_nothing_behind(sources, shelf):
    (sources / "js/day/word.js").write_text("export const word = (")
    with pytest.raises(PackingError, match=r"word\.js"):
        packed(sources, shelf)
    assert list(shelf.iterdir()) == []


def test_a_folder_that_nobody_may_write_to_is_named(sources, tmp_path):
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(PackingError, match=r"file.* cannot hold the packed files"):
        packed(sources, tmp_path / "file" / "shelf")


def test_where_bun_is_not_installed_a_sentence_says_what_to_do(sources, shelf):
    ask = (
        "import sys, pathlib; sys.path.insert(0, sys.argv[1]); from webapp.packing import packed;"
        " packed(*map(pathlib.Path, sys.argv[2:]))"
    )
    # Without the folder of installed packages.
    run = [sys.executable, "-I", "-S", "-c", ask, ROOT, sources, shelf]
    done = subprocess.run(run, check=False, capture_output=True, text=True, timeout=60)
    assert done.returncode == 1
    assert "Bun, which packs them, is not installed: install it with pip install" in done.stderr
