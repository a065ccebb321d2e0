"""The project's own files, and ways to read them, for the tests about the code. Knows no room."""

import ast
import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
BUILT = {".git", ".venv", "node_modules", ".packed", ".data", ".seen", "__pycache__", "dist", "build"}
CACHES = re.compile(r"^\.[a-z_]+_cache$|^\.hypothesis$|\.egg-info$")
JS_COMMENT_OR_STRING = re.compile(
    r"(?P<comment>//[^\n]*|/\*.*?\*/)|(?P<string>'(?:\\.|[^'\\\n])*'|\"(?:\\.|[^\"\\\n])*\"|`(?:\\.|[^`\\])*`)",
    re.DOTALL,
)


@dataclass(frozen=True)
class Literal:
    """A string in JavaScript: the line on which it starts, the text before it on that line, and its own text."""

    line: int
    before: str
    text: str


@cache
def project_files() -> tuple[Path, ...]:
    """Return every file of the project: the files that git would keep; without git, all files that are not built."""
    kept = _kept_by_git()
    if kept is not None:
        return tuple(sorted(path for name in kept if name and (path := ROOT / name).is_file()))
    return tuple(sorted(path for path in ROOT.rglob("*") if path.is_file() and not _is_built(path)))


def _kept_by_git() -> set[str] | None:
    """Return the names of the files that git would keep; None where there is no git, or this is no checkout."""
    git = shutil.which("git")
    if git is None:
        return None
    listing = subprocess.run(
        [git, "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        check=False, cwd=ROOT, capture_output=True, text=True, timeout=60,
    )  # fmt: skip
    return set(listing.stdout.split("\0")) if listing.returncode == 0 else None


def files(*suffixes: str, under: str = "") -> list[Path]:
    """Return the project's files under a folder that have one of the suffixes."""
    return [path for path in project_files() if path.suffix in suffixes and file_name(path).startswith(under)]


def file_name(path: Path) -> str:
    """Return a file's path from the root of the project, with slashes."""
    return path.relative_to(ROOT).as_posix()


def parsed(path: Path) -> ast.Module:
    """Return a Python file as a syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Return every function and method of a syntax tree."""
    return (node for node in ast.walk(tree) if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)))


def code_lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Return how many lines a function has, without its docstring: a long docstring is no fault."""
    lines = (function.end_lineno or function.lineno) - function.lineno + 1
    first = function.body[0]
    if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant) and isinstance(first.value.value, str):
        lines -= (first.end_lineno or first.lineno) - first.lineno + 1
    return lines


def without_comments(script: str) -> str:
    """JavaScript with its comments blanked, line numbers kept."""

    def blank(found: re.Match[str]) -> str:
        return re.sub(r"[^\n]", " ", found[0]) if found["comment"] else found[0]

    return JS_COMMENT_OR_STRING.sub(blank, script)


def literals(script: str) -> Iterator[Literal]:
    """Every string in a piece of JavaScript, comments apart."""
    bare = without_comments(script)
    for found in JS_COMMENT_OR_STRING.finditer(bare):
        start = bare.rfind("\n", 0, found.start()) + 1
        yield Literal(bare.count("\n", 0, found.start()) + 1, bare[start : found.start()], found[0][1:-1])


def _is_built(path: Path) -> bool:
    return any(part in BUILT or CACHES.search(part) for part in path.relative_to(ROOT).parts)
