"""A Dask cluster of separate processes gives what one process gives, even where one of its workers is killed."""

from __future__ import annotations

import os
import signal
import socket
import ssl
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import rubric_kit as rk
from rubric_kit.batching import cluster, job
from rubric_kit.batching.rows import ROWS, BatchError

from .tables import essay, finished, many, parts, started, wait_until, write_csv

distributed = pytest.importorskip("distributed", reason="distributed, of the extra cluster, is not installed")
NUMBER = 15 * ROWS


@pytest.fixture
def local(tmp_path: Path) -> Iterator[Any]:
    """Two workers in processes of their own, which a nanny starts anew where they are lost."""
    with distributed.LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        processes=True,
        dashboard_address=None,
        local_directory=str(tmp_path),
        silence_logs=50,
    ) as local:
        yield local


@pytest.mark.slow
def test_with_a_worker_killed_half_way_the_results_are_the_same(local: Any, tmp_path: Path) -> None:
    source, out = many(tmp_path / "in.csv", NUMBER), tmp_path / "out.csv"
    killed = []

    def kill(done: int, total: int, before: int) -> None:
        if done >= 3 * ROWS and not killed:
            killed.append(local.workers[0].pid)
            os.kill(killed[0], signal.SIGKILL)

    done = rk.batch(source, out, grade=5, cluster=local.scheduler_address, told=kill)
    whole = rk.batch(source, tmp_path / "whole.csv", grade=5, processes=1)
    assert killed
    assert local.workers[0].pid != killed[0]
    assert (done.rows, done.left_out) == (NUMBER - 6, 6)
    assert out.read_bytes() == whole.results.read_bytes()
    assert done.problems.read_bytes() == whole.problems.read_bytes()


@pytest.mark.slow
def test_few_chunks_are_on_the_cluster_at_a_time_and_only_essays_and_lines_go_there(local: Any, tmp_path: Path) -> None:
    from rubric_kit.batching.rows import Chunk, Row, chunks

    taken = done = 0

    def waiting() -> Iterator[Chunk]:
        nonlocal taken
        for chunk in chunks(Row(n, str(n), essay(n), size=300) for n in range(NUMBER)):
            taken += 1
            yield chunk

    for _ in cluster.on_cluster(waiting(), job.job(None, None, None), local.scheduler_address):
        done += 1
        assert taken - done <= cluster.AHEAD * 2
    assert done == NUMBER // ROWS


@pytest.mark.slow
def test_stopped_on_a_cluster_it_goes_on_here(local: Any, tmp_path: Path) -> None:
    source, out = many(tmp_path / "in.csv", NUMBER), tmp_path / "out.csv"
    process = started(source, "--grade", 5, "--out", out, "--cluster", local.scheduler_address)
    wait_until(lambda: len(parts(out)) >= 3 or process.poll() is not None)
    process.send_signal(signal.SIGINT)
    said = process.communicate(timeout=60)[1].decode()
    assert (process.returncode, said) == (130, "Stopped. What is done is kept: run the same command again to go on.\n")
    done = rk.batch(source, out, grade=5, processes=1)
    assert out.read_bytes() == rk.batch(source, tmp_path / "w.csv", grade=5, processes=1).results.read_bytes()
    assert done.rows == NUMBER - 6


@pytest.mark.slow
def test_a_cluster_that_goes_away_is_told_and_what_is_done_is_kept(local: Any, tmp_path: Path) -> None:
    source, out = many(tmp_path / "in.csv", NUMBER), tmp_path / "out.csv"

    def close(done: int, total: int, before: int) -> None:
        if done >= 3 * ROWS:
            local.close(timeout=10)

    with pytest.raises(BatchError, match=r"the cluster failed.*run the same command again"):
        rk.batch(source, out, grade=5, cluster=local.scheduler_address, told=close)
    assert len(parts(out)) >= 3


@pytest.mark.slow
def test_workers_with_other_versions_are_refused(local: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    source = write_csv(tmp_path / "in.csv", [(1, essay(1))])
    monkeypatch.setattr(job, "versions", lambda: {**dict(VERSIONS), "rubric-kit": "0.0.1"})
    with pytest.raises(BatchError, match=r"rubric-kit [0-9.]+ \(ours: 0.0.1\)"):
        rk.batch(source, tmp_path / "out.csv", cluster=local.scheduler_address)
    assert sorted(place.name for place in tmp_path.glob("*.*")) == ["in.csv"]


VERSIONS = job.versions()


@pytest.mark.parametrize("address", ["", "nonsense", "nonsense://x:1", "tcp://x", "inproc://1/2/3"])
def test_what_is_no_address_is_told(tmp_path: Path, address: str) -> None:
    with pytest.raises(BatchError, match=r"is no address of a cluster"):
        rk.batch(write_csv(tmp_path / "in.csv", [(1, essay(1))]), tmp_path / "out.csv", cluster=address)
    assert sorted(place.name for place in tmp_path.iterdir()) == ["in.csv"]


@pytest.mark.parametrize("address", ["tcp://127.0.0.1:1", "tls://127.0.0.1:1"])
def test_an_address_where_no_cluster_is_is_told(tmp_path: Path, address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cluster, "ANSWER", 1)
    with pytest.raises(BatchError, match="no cluster answers there"):
        rk.batch(write_csv(tmp_path / "in.csv", [(1, essay(1))]), tmp_path / "out.csv", cluster=address)
    assert sorted(place.name for place in tmp_path.iterdir()) == ["in.csv"]


@pytest.mark.slow
def test_something_that_is_no_scheduler_but_takes_a_connection_is_told(tmp_path: Path) -> None:
    source = write_csv(tmp_path / "in.csv", [(1, essay(1))])
    with socket.create_server(("127.0.0.1", 0)) as deaf:
        address = f"tcp://127.0.0.1:{deaf.getsockname()[1]}"
        code, said = finished(source, "--out", tmp_path / "out.csv", "--cluster", address)
    assert code == 1
    assert said == f"{address}: no cluster answers there (TimeoutError). Check the address of its scheduler.\n"


def test_a_cluster_without_workers_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cluster, "ANSWER", 1)
    with (
        distributed.LocalCluster(n_workers=0, dashboard_address=None, silence_logs=50) as empty,
        pytest.raises(BatchError, match="no workers"),
    ):
        rk.batch(write_csv(tmp_path / "in.csv", [(1, essay(1))]), tmp_path / "out.csv", cluster=empty.scheduler_address)


def test_without_the_library_the_extra_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str) -> None:
        raise ImportError(name)

    monkeypatch.setattr(cluster, "import_module", missing)
    with pytest.raises(BatchError, match=r"pip install 'rubric-kit\[cluster\]'"):
        rk.batch(write_csv(tmp_path / "in.csv", [(1, essay(1))]), tmp_path / "out.csv", cluster="tcp://x:1")


@pytest.mark.slow
def test_tls_with_the_certificates_of_dasks_own_settings(tmp_path: Path) -> None:
    """As a school has it: the address begins with tls, and dask's settings name the certificates."""
    key, certificate = tmp_path / "key.pem", tmp_path / "certificate.pem"
    command = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=batch"]
    try:
        subprocess.run([*command, "-keyout", key, "-out", certificate], check=True, capture_output=True)
    except OSError:
        pytest.skip("openssl, which makes the certificate, is not installed")
    ssl.create_default_context().load_cert_chain(certificate, key)
    settings, options = {"DASK_DISTRIBUTED__COMM__TLS__CA_FILE": str(certificate)}, {}
    for who in ("client", "scheduler", "worker"):
        for what, path in (("cert", certificate), ("key", key)):
            settings[f"DASK_DISTRIBUTED__COMM__TLS__{who}__{what}".upper()] = str(path)
            options[f"tls_{who}_{what}"] = str(path)
    security = distributed.Security(tls_ca_file=str(certificate), require_encryption=True, **options)
    source = many(tmp_path / "in.csv", 2 * ROWS)
    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, security=security, protocol="tls://", dashboard_address=None, silence_logs=50
    ) as encrypted:
        assert encrypted.scheduler_address.startswith("tls://")
        arguments = [source, "--grade", 5, "--out", tmp_path / "out.csv", "--cluster", encrypted.scheduler_address]
        code, said = finished(*arguments, env={**os.environ, **settings})
        assert (code, "1 left out" in said) == (1, True), said
    whole = rk.batch(source, tmp_path / "whole.csv", grade=5, processes=1)
    assert (tmp_path / "out.csv").read_bytes() == whole.results.read_bytes()
