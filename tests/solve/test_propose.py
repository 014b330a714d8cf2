"""What might hide an obstacle: the sample's own records with their treatments taken out, and records made for it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import cache, partial
from pathlib import Path

import pytest
from click.testing import CliRunner

from bookgen.choosing import lines, plain
from bookgen.cli import commands
from bookgen.model.length import inches
from bookgen.model.project import Project
from bookgen.model.proposal import Choice, Proposal
from bookgen.model.records.treatments import Treatment
from bookgen.model.solved import Solved
from bookgen.solve import solve
from bookgen.solve.propose import propose
from bookgen.solve.treatments import TREATMENTS
from bookgen.solve.whole import judge, retried
from tests.invariants import crowded, doubled, hidden, pieces
from tests.sample_house import sample_house

ASKED = Treatment.model_validate("propose")
Asked = Callable[[str], Choice]


@pytest.fixture(scope="module")
def project() -> Project:
    """Return the sample's records."""
    return sample_house().project


@pytest.fixture(scope="module")
def level(project: Project) -> Callable[[str], Solved]:
    """Return what gives the sample with one record's treatment taken out again; each is solved once."""
    return cache(partial(undecided, project))


@pytest.fixture(scope="module")
def choice(project: Project) -> Asked:
    """Return what gives the proposals for one record of the sample; each is tried once."""

    def tried(key: str) -> Choice:
        (found,) = propose(asking(project, key))
        assert found.key == key
        return found

    return cache(tried)


def asking(project: Project, key: str) -> Project:
    """Return the sample's records with one treatment taken out again."""
    files = tuple(
        replace(one, record=one.record.model_copy(update={"treatment": ASKED, "as_built": None}))
        if one.key == key
        else one
        for one in project.obstacles
    )
    return replace(project, obstacles=files)


def undecided(project: Project, key: str) -> Solved:
    """Return the sample solved with one record's treatment taken out again."""
    solved, problems = solve(asking(project, key))
    assert solved is not None, [str(problem) for problem in problems]
    return solved


def served(found: Choice) -> dict[str, Proposal]:
    """Return the proposals that serve, by treatment; the first of each."""
    kept: dict[str, Proposal] = {}
    for one in found.proposals:
        if one.serves:
            kept.setdefault(one.treatment, one)
    return kept


# What did the site notes of the sample have built, and how much headroom did it leave over the floor (0.3 in)?
BUILT = (
    ("01-panel", "closet", None),
    ("02-drain", "wall soffit", "76.2"),
    pytest.param("03-stack", "chase", None, marks=pytest.mark.long),
    ("04-ducts", "hung soffit", "78.2"),
    pytest.param("05-beam", "beam soffit", "79.2", marks=pytest.mark.long),
    ("06a-post-a", "post wrap", None),
    ("07-mechanical", "utility room", None),
    ("09-lines", "furring", "87.2"),
    ("11-water", "access opening", None),
)


@pytest.mark.parametrize(("key", "treatment", "headroom"), BUILT)
def test_what_was_built_is_among_what_is_proposed(
    choice: Asked, key: str, treatment: str, headroom: str | None
) -> None:
    """The treatment of the site notes serves and leaves no less headroom; of every other it is told why not."""
    found = choice(key)
    best = served(found)[treatment]

    assert best.cost is not None
    if headroom is not None:
        assert best.cost.headroom is not None
        assert best.cost.headroom >= inches(headroom)
    assert {one.treatment for one in found.proposals} == {name for name, _ in TREATMENTS}
    for one in found.proposals:
        assert one.serves != bool(one.why)
        assert all(words[-1] in ".?" for words in (*one.why, *one.access))


@pytest.mark.parametrize("key", ["04-ducts", pytest.param("02-drain", marks=pytest.mark.long)])
def test_the_lines_to_paste_give_what_was_shown(
    level: Callable[[str], Solved], choice: Asked, key: str, tmp_path: Path
) -> None:
    """Pasted into the record, the lines are read, solved, keep every rule, and leave what the proposal said."""
    solved = level(key)
    for one in served(choice(key)).values():
        text = "treatment:\n" + "".join(f"  {line}\n" for line in one.lines)
        chosen = Treatment.model_validate(_read_back(tmp_path, text)["treatment"])
        files = tuple(
            replace(file, record=file.record.model_copy(update={"treatment": chosen})) if file.key == key else file
            for file in solved.project.obstacles
        )
        found, problems = solve(replace(solved.project, obstacles=files))

        assert found is not None, [str(problem) for problem in problems]
        built = found.obstacle(key).assembly
        assert built is not None
        assert built.treatment == one.treatment
        assert one.cost is not None
        assert found.obstacle(key).headroom == one.cost.headroom
        sticks = [piece for piece in found.takeoff.pieces if piece.obstacle == key and piece.wide is None]
        assert sum((p.length.inches * p.count for p in sticks), Fraction(0)) == one.cost.sticks.inches
        assert not [*doubled(pieces(found)), *crowded(pieces(found), hidden(found))]


ALL_BUILT = (
    *("02-drain", "06a-post-a", "10-stair"),
    *(pytest.param(f"{key}", marks=pytest.mark.long) for key in ("01-panel", "04-ducts", "05-beam", "07-mechanical")),
    *(pytest.param(f"{key}", marks=pytest.mark.long) for key in ("09-lines", "11-water", "12-radon")),
)


@pytest.mark.parametrize("key", ALL_BUILT)
def test_what_is_worked_out_near_one_treatment_is_all_that_it_changes(project: Project, key: str) -> None:
    """The sample with one treatment put back is, wall by wall and piece by piece, the sample solved as a whole."""
    whole, _ = judge(project)
    before, _ = judge(asking(project, key))
    assert whole is not None
    assert before is not None
    found, problems = retried(before, project, key)
    assert found is not None, problems
    assert found.obstacles == whole.obstacles
    assert found.level == whole.level


def _read_back(folder: Path, text: str) -> dict[str, object]:
    """Return a record's lines as the reader reads them: everything is text."""
    import yaml  # only to read back what a person would paste

    file = folder / "lines.yaml"
    file.write_text(text, "utf-8")
    found = yaml.load(file.read_text("utf-8"), Loader=yaml.BaseLoader)  # noqa: S506  # texts only

    def listed(value: object) -> object:
        if isinstance(value, dict):
            return {key: listed(inner) for key, inner in value.items()}
        return tuple(listed(inner) for inner in value) if isinstance(value, list) else value

    result = listed(found)
    assert isinstance(result, dict)
    return result


def test_what_is_proposed_has_the_places_that_were_built(choice: Asked) -> None:
    """The strips stop short of the cold line, and between the soffits; doors and cover are where the house has them."""
    lines_ = served(choice("09-lines"))["furring"].lines
    assert "      along: 207.5 in to 425.5 in" in lines_  # site notes: they stop at x 425.5
    doors = served(choice("07-mechanical"))["utility room"].lines
    assert {"  wall: P3", "  largest: Furnace", "    leaf: 30 x 75 in", "    leaves: 2"} <= set(doors)
    water = served(choice("11-water"))["access opening"]
    assert {"  opening: 14 x 18 in", "    above slab: 26.5 in to 44.5 in"} <= set(water.lines)
    assert any("Second water valve" in words and "shut in" in words for words in water.access)


def test_a_stair_says_what_has_to_be_measured(choice: Asked) -> None:
    """Nothing of a stair can be worked out before somebody has measured it."""
    (found,) = choice("10-stair").proposals
    assert found.treatment == "stair opening"
    assert "as measured" in " ".join(found.why)


def test_what_nothing_serves_says_why(choice: Asked) -> None:
    """A duct is no post and reaches no floor; strips hide nothing that hangs 9 in; each reason is told."""
    why = {one.treatment: " ".join(one.why) for one in choice("04-ducts").proposals if not one.serves}

    assert "along no wall" in why["wall soffit"]
    assert "no beam" in why["beam soffit"]
    assert "hide what hangs" in why["furring"]
    assert "upright" in why["post wrap"]


def test_what_is_shut_in_is_told(choice: Asked) -> None:
    """The damper of the middle branch has no cover: the soffit does not reach it, the ceiling shuts it in."""
    hung = served(choice("04-ducts"))["hung soffit"]

    assert any("Damper of the middle branch" in words and "shut in" in words for words in hung.access)


def test_until_one_is_chosen_it_is_open_work_with_a_finding(project: Project, level: Callable[[str], Solved]) -> None:
    """No framing, no takeoff, a finding to ask about; the decided rest of the house stays as it was."""
    solved = level("04-ducts")

    assert solved.obstacle("04-ducts").assembly is None
    assert solved.obstacle("04-ducts").hidden
    assert not [piece for piece in solved.takeoff.pieces if piece.obstacle == "04-ducts"]
    assert [one.where for one in solved.findings if one.code == "treatment-undecided"] == ["Ducts down the middle"]
    assert not propose(project)


def test_a_person_and_a_program_read_the_same(project: Project, choice: Asked) -> None:
    """Every number on the terminal comes from the data that --json gives."""
    found = choice("04-ducts")
    told = "\n".join(lines(found, project, Path("house")))
    data = plain(found)

    assert "between: 82 in to 122 in" in told
    assert json.loads(json.dumps(data))["proposals"][0]["cost"]["headroom_in"] == 78.2
    assert "6′ 6 3⁄16″" in told.replace("\u00a0", " ").replace("\u200a", " ")


def test_check_prints_the_proposals(tmp_path: Path) -> None:
    """The command shows them for a folder whose record says propose, and gives them to programs."""
    folder = tmp_path / "house"
    CliRunner().invoke(commands, ["start", str(folder), "--quick"], catch_exceptions=False)
    record = next((folder / "obstacles").glob("*.yaml"))
    text = record.read_text("utf-8")
    record.write_text(re.sub(r"(?m)^treatment:\n(?:[ #].*\n)+", "treatment: propose\n", text), "utf-8")

    told = CliRunner().invoke(commands, ["check", str(folder)], catch_exceptions=False)
    data = json.loads(CliRunner().invoke(commands, ["check", str(folder), "--json"], catch_exceptions=False).stdout)

    assert told.exit_code == 0
    assert "To choose it, write in place of propose:" in told.stdout
    assert [one["obstacle"] for one in data["choices"]] == [record.stem]
    assert any(one["serves"] for one in data["choices"][0]["proposals"])
