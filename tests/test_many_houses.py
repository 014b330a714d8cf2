"""Thousands of projects on an existing engine: the recipe of DEVELOPERS.md, with two workers, one of them killed."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
HOUSES = 8
ENGINE = """
import json, os, signal, sys
from dask.distributed import LocalCluster

if __name__ == "__main__":
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
        address, projects, killed, made = cluster.scheduler_address, sys.argv[1:], [], {}

        def told(project, done):
            made[project] = [done.code, done.wrong]
            if not killed:
                worker = max(cluster.workers.values(), key=lambda one: one.pid)
                killed.append(worker.pid)
                os.kill(worker.pid, signal.SIGKILL)

RECIPE
        print(json.dumps({"killed": killed, "made": made}))
"""


def recipe() -> str:
    """Return the ten lines of DEVELOPERS.md, as they would stand in the engine's program."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    found = re.search(r"<!-- many houses -->\n\n((?:    .*\n|\n)+)", text)
    assert found
    lines = found.group(1).rstrip().splitlines()
    assert len(lines) <= 10
    return "\n".join(f"    {line}" for line in lines)


def test_the_recipe_is_a_program() -> None:
    """What the long job runs compiles, every day."""
    compile(ENGINE.replace("RECIPE", recipe()), "recipe", "exec")


@pytest.mark.long
def test_all_books_stand_though_a_worker_was_killed(tmp_path: Path) -> None:
    """What the dead worker had in hand is bound by the other one; nothing is left beside any book."""
    names = [f"house-{number}" for number in range(HOUSES)]
    for name in names:
        shutil.copytree(ROOT / "projects" / "smallest", tmp_path / name)
    program = tmp_path / "engine.py"
    program.write_text(ENGINE.replace("RECIPE", recipe()), encoding="utf-8")
    environment = {**os.environ, "BOOKGEN_CACHE": str(tmp_path / "cache"), "PYTHONPATH": str(ROOT)}
    command = [sys.executable, str(program), *names]
    run = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)  # noqa: S603
    assert run.returncode == 0, run.stderr
    told = json.loads(run.stdout.splitlines()[-1])
    assert len(told["killed"]) == 1
    assert told["made"] == {name: [0, ""] for name in names}
    for name in names:
        assert (tmp_path / "site_out" / name / "owner" / "book.pdf").is_file()
        assert [path.name for path in (tmp_path / "site_out" / name).iterdir()] == ["owner"]
