"""A build on other machines: workers that are processes of this one, at a scheduler of Dask's own."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from distributed import Client

from foldwright.cli import cluster as cli_cluster
from foldwright.cli.app import run
from foldwright.cli.cluster import Cluster, Errand
from foldwright.outputs.parcel import Lacking
from workbench.command_line import GOOD, foldwright, until, write
from workbench.dask_cluster import DaskCluster, dask_cluster

MANY = 16
"""More recipes than two workers have in hand at once."""


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    """Recipes with an outline, in sizes, with an error, and many plain ones."""
    recipes = Path(__file__).parents[2] / "recipes"
    for name in ("birdhouse", "drawer-box"):
        shutil.copytree(recipes / name, tmp_path / "recipes" / name)
    shutil.copy(recipes / "studio.yaml", tmp_path / "recipes")
    for number in range(MANY):
        write(tmp_path / "recipes", f"card-{number:02}", GOOD.replace("8 x 5 in", f"8 x {5 + number % 3} in"))
    return tmp_path


@pytest.fixture
def dask(tmp_path: Path) -> Iterator[DaskCluster]:
    with dask_cluster(tmp_path) as cluster:
        yield cluster


def made(out: Path) -> dict[str, bytes]:
    """All files of an output by path, but what foldwright notes for itself."""
    files = (path for path in out.rglob("*") if path.is_file() and not path.name.startswith("."))
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in files}


def another_foldwright(folder: Path) -> str:
    """A folder for Python's path with a foldwright that is known by another mark."""
    room = folder / "another/foldwright/cli"
    room.mkdir(parents=True)
    (room / "__init__.py").touch()
    (room.parent / "__init__.py").touch()
    (room / "program.py").write_text("def program_elsewhere():\n    return 'another'\n")
    return str(folder / "another")


def test_the_same_bytes_though_a_worker_is_lost(studio: Path, dask: DaskCluster) -> None:
    words = ("build", "recipes", "--only", "tutorial,sheet,pieces")
    here = foldwright(*words, "--out", "here", cwd=studio)
    lost, stays = dask.add_worker(), dask.add_worker()
    other = dask.add_worker(PYTHONPATH=another_foldwright(studio))
    command = [sys.executable, "-m", "foldwright", *words, "--out", "away", "--on", dask.address]
    running = subprocess.Popen(command, cwd=studio, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    # The first recipe is there: most of the others are on their way then.
    until(lambda: (studio / "away/birdhouse").is_dir(), "the first recipe is there")
    assert running.poll() is None
    dask.kill(lost)
    out, err = running.communicate()
    assert other in err
    assert stays not in err
    assert running.returncode == here.status
    assert made(studio / "away") == made(studio / "here")
    assert out.replace("away", "here") == here.out


def test_nothing_is_built_where_all_workers_have_another_foldwright(studio: Path, dask: DaskCluster) -> None:
    other = dask.add_worker(PYTHONPATH=another_foldwright(studio))
    done = foldwright("build", "recipes", "--out", "out", "--only", "sheet", "--on", dask.address, cwd=studio)
    assert done.status == 2
    assert other in done.err
    assert not made(studio / "out")


@pytest.mark.parametrize(
    "address", ["192.168.1.20:8786", "http://scheduler:8787", "tcp://scheduler", "8786", "ucx://here:8786"]
)
def test_an_address_that_is_none(studio: Path, address: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["build", str(studio / "recipes"), "--out", str(studio / "out"), "--on", address]) == 2
    assert address in capsys.readouterr().err
    assert not (studio / "out").exists()


def test_what_is_encrypted_needs_certificates(studio: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["build", str(studio / "recipes"), "--out", str(studio / "out"), "--on", "tls://127.0.0.1:8786"]) == 2
    assert "certificates" in capsys.readouterr().err


def test_a_scheduler_that_does_not_answer(
    studio: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(cli_cluster, "_PATIENCE", 0.2)
    # Port 1 (tcpmux) is served nowhere today.
    assert run(["build", str(studio / "recipes"), "--out", str(studio / "out"), "--on", "tcp://127.0.0.1:1"]) == 2
    assert "tcp://127.0.0.1:1" in capsys.readouterr().err


def test_what_no_worker_can_do_is_done_here(dask: DaskCluster, monkeypatch: pytest.MonkeyPatch) -> None:
    """With work that has nothing to do with recipes: numbers doubled, which lack something where they are odd."""

    # Within another function, so that it is sent whole: workers know nothing of this module.
    def twice(number: int) -> int | Lacking:
        return Lacking(file="one more") if number % 2 else number * 2

    only = dask.add_worker()
    errands = (Errand(number, lambda one, lacking: one + 1) for number in range(50))
    with Cluster(Client(dask.address, set_as_default=False), twice) as cluster:
        came = cluster.each(errands)
        some = [next(came) for _ in range(3)]
        at_first = cluster.here
        dask.kill(only)
        # From here on, so that a worker that is slow on a busy machine is not taken for lost.
        monkeypatch.setattr(cli_cluster, "_PATIENCE", 0.2)
        assert [*some, *came] == [(number + number % 2) * 2 for number in range(50)]
    assert at_first == 0
    assert cluster.here > 0
