"""The map of the house in DEVELOPERS.md names every room of the service, and none that is not there."""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path
from textwrap import fill
from typing import Final

ROOT: Final = Path(__file__).parents[2]
HOUSE: Final = ROOT / "service" / "mendgauge"
GUIDE: Final = ROOT / "DEVELOPERS.md"
BEGIN: Final = "<!-- map: written by `make map` -->\n"
END: Final = "<!-- end of map -->"


def purpose(module: Path) -> str:
    """The first sentence of a module's docstring."""
    doc = ast.get_docstring(ast.parse(module.read_text("utf-8"))) or ""
    return doc.partition("\n\n")[0].replace("\n", " ")


def floors() -> list[str]:
    """What stands at the top of the service, from the top floor down, as the import contract has it."""
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]["contracts"]
    house = next(one for one in contracts if one.get("containers") == ["mendgauge"])
    return [name.strip() for layer in house["layers"] for name in layer.split("|")]


def rooms(folder: Path) -> Iterator[Path]:
    """A package and every package below it."""
    yield folder
    for inner in sorted(path for path in folder.iterdir() if (path / "__init__.py").exists()):
        yield from rooms(inner)


def entry(path: Path) -> str:
    """What the map says of a module or a package: its purpose, then its modules by name."""
    name = path.relative_to(HOUSE).as_posix()
    if path.suffix:
        return f"`{name}`: {purpose(path)}"
    modules = ", ".join(f"`{module.stem}`" for module in sorted(path.glob("*.py")) if module.stem != "__init__")
    return f"`{name}/`: {purpose(path / '__init__.py')}" + (f" Modules: {modules}." if modules else "")


def drawn() -> str:
    """The map as the code has it."""
    lines = []
    for floor in floors():
        place = HOUSE / floor
        for room in rooms(place) if place.is_dir() else (place.with_suffix(".py"),):
            depth = len(room.relative_to(HOUSE).parts) - 1
            indent = "  " * depth
            lines.append(fill(f"- {entry(room)}", 120, initial_indent=indent, subsequent_indent=f"{indent}  "))
    return "\n".join(lines) + "\n"


def test_the_map_is_the_house() -> None:
    _, _, rest = GUIDE.read_text("utf-8").partition(BEGIN)
    assert rest.partition(END)[0] == drawn(), "run `make map`"


def test_every_room_has_its_floor() -> None:
    there = {path.stem for path in HOUSE.iterdir() if path.suffix == ".py" or (path / "__init__.py").exists()}
    assert there - {"__init__"} == set(floors())


def test_every_module_says_what_it_is_for() -> None:
    silent = [str(path) for path in HOUSE.rglob("*.py") if not purpose(path)]
    assert silent == []


def rewrite() -> None:
    """Write the map into DEVELOPERS.md anew."""
    before, _, rest = GUIDE.read_text("utf-8").partition(BEGIN)
    GUIDE.write_text(before + BEGIN + drawn() + END + rest.partition(END)[2], "utf-8")


if __name__ == "__main__":
    rewrite()
