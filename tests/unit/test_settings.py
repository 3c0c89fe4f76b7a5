"""Settings come from the environment, each checked at the start."""

from __future__ import annotations

from pathlib import Path

import pytest

from mendgauge.api.keys import KeyRing, stored_keys
from mendgauge.cli import main
from mendgauge.settings import Settings, SettingsError, read_settings, settings_table, unknown_variables

KEYS = (f"depot:{'0f' * 32}", f"till-2:{'a1' * 32}")


def test_without_any_the_service_listens_on_this_machine_alone() -> None:
    assert read_settings({"PATH": "/bin", "PORT": "1"}) == Settings()
    assert Settings().host == "127.0.0.1"


@pytest.mark.parametrize(
    ("name", "text", "field", "value"),
    [
        ("MENDGAUGE_HOST", "::1", "host", "::1"),
        ("MENDGAUGE_PORT", "0", "port", 0),
        ("MENDGAUGE_WORKERS", "4", "workers", 4),
        ("MENDGAUGE_LOG_LEVEL", "warning", "log_level", "warning"),
        ("MENDGAUGE_MAX_BODY_BYTES", "1024", "max_body_bytes", 1024),
        ("MENDGAUGE_API_KEYS", f"{KEYS[0]}, {KEYS[1]},", "api_keys", KEYS),
        ("MENDGAUGE_KEYS_FILE", "/run/keys", "keys_file", "/run/keys"),
        ("MENDGAUGE_OPEN", "yes", "open", "yes"),
        ("MENDGAUGE_FORWARDED_BY", "10.0.0.0/8, ::1", "forwarded_by", ("10.0.0.0/8", "::1")),
        ("MENDGAUGE_RATE_PER_SECOND", "2.5", "rate_per_second", 2.5),
        ("MENDGAUGE_RATE_BURST", "20", "rate_burst", 20),
        ("MENDGAUGE_MAX_CONNECTIONS", "20", "max_connections", 20),
        ("MENDGAUGE_HEAD_SECONDS", "2", "head_seconds", 2.0),
        ("MENDGAUGE_BODY_SECONDS", "60", "body_seconds", 60.0),
        ("MENDGAUGE_IDLE_SECONDS", "5", "idle_seconds", 5.0),
        ("MENDGAUGE_DRAIN_SECONDS", "0.5", "drain_seconds", 0.5),
    ],
)
def test_each_is_read_from_its_variable(name: str, text: str, field: str, value: object) -> None:
    assert getattr(read_settings({name: text}), field) == value


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("MENDGAUGE_PORT", "http", "'http' is not allowed; it takes a whole number from 0 to 65535"),
        ("MENDGAUGE_PORT", "65536", "whole number from 0 to 65535"),
        ("MENDGAUGE_PORT", "8340.5", "whole number"),
        ("MENDGAUGE_HOST", "", "text"),
        ("MENDGAUGE_KEYS_FILE", "", "text"),
        ("MENDGAUGE_OPEN", "true", "one of no, yes"),
        ("MENDGAUGE_API_KEYS", "", "mendgauge keys new NAME"),
        ("MENDGAUGE_API_KEYS", " , ", "mendgauge keys new NAME"),
        ("MENDGAUGE_WORKERS", "0", "from 1 to 64"),
        ("MENDGAUGE_LOG_LEVEL", "INFO", "one of debug, error, info, warning"),
        ("MENDGAUGE_MAX_BODY_BYTES", "1", "from 1024"),
        ("MENDGAUGE_FORWARDED_BY", "proxy", "'proxy' does not appear to be an IPv4 or IPv6 network"),
        ("MENDGAUGE_FORWARDED_BY", "10.0.0.7/8", "host bits set; it takes addresses or networks"),
        ("MENDGAUGE_DRAIN_SECONDS", "nan", "number from 0 to 300"),
        ("MENDGAUGE_DRAIN_SECONDS", "-1", "number from 0 to 300"),
    ],
)
def test_a_bad_value_is_refused_with_what_would_do(name: str, text: str, words: str) -> None:
    with pytest.raises(SettingsError) as caught:
        read_settings({name: text})
    assert str(caught.value).startswith(f"{name}: ")
    assert words in str(caught.value)


@pytest.mark.parametrize(
    "keys", ["a-key-and-not-its-digest", f"{KEYS[0]},depot:short", f"de pot:{'0f' * 32}", KEYS[0].upper()]
)
def test_a_bad_key_is_refused_but_never_shown(keys: str) -> None:
    with pytest.raises(SettingsError) as caught:
        read_settings({"MENDGAUGE_API_KEYS": keys})
    assert "NAME:DIGEST" in str(caught.value)
    assert keys not in str(caught.value)


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "10.0.0.7", "depot.example"])
def test_it_is_open_to_other_machines_only_if_somebody_says_so(host: str) -> None:
    with pytest.raises(SettingsError, match="MENDGAUGE_OPEN=yes"):
        read_settings({"MENDGAUGE_HOST": host})
    for said in ({"MENDGAUGE_OPEN": "yes"}, {"MENDGAUGE_API_KEYS": KEYS[0]}, {"MENDGAUGE_KEYS_FILE": "/run/keys"}):
        assert read_settings({"MENDGAUGE_HOST": host, **said}).host == host


@pytest.mark.parametrize("host", ["127.0.0.1", "127.1.2.3", "::1", "localhost"])
def test_on_loopback_it_needs_no_keys(host: str) -> None:
    assert read_settings({"MENDGAUGE_HOST": host}).host == host


def test_all_bad_values_are_reported_at_once() -> None:
    with pytest.raises(SettingsError, match=r"(?s)MENDGAUGE_PORT.*MENDGAUGE_LOG_LEVEL"):
        read_settings({"MENDGAUGE_PORT": "x", "MENDGAUGE_LOG_LEVEL": "y"})


def test_a_name_that_is_no_setting_is_refused_with_the_one_meant() -> None:
    assert unknown_variables({"MENDGAUGE_API_KEY": "x", "MENDGAUGE_PORT": "1", "HOME": "/"}) == [
        "MENDGAUGE_API_KEY is no setting; did you mean `MENDGAUGE_API_KEYS`?"
    ]


def test_the_table_has_every_setting_and_its_default() -> None:
    rows = settings_table().splitlines()[2:]
    assert len(rows) == len(Settings.__struct_fields__)
    for name, row in zip(Settings.__struct_fields__, rows, strict=True):
        assert row.startswith(f"| `MENDGAUGE_{name.upper()}` | ")
        assert row.count("|") == 5
        default = getattr(Settings(), name)
        assert f"| {'none' if default in ((), None) else f'`{default}`'} |" in row


def test_the_readme_has_the_table() -> None:
    assert settings_table() in (Path(__file__).parents[2] / "README.md").read_text()


def test_the_command_prints_the_table_and_the_document(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["settings"]) == 0
    assert capfd.readouterr().out == settings_table() + "\n"
    assert main(["openapi"]) == 0
    assert capfd.readouterr().out.startswith("{")


def test_a_bad_option_stops_the_start(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["serve", "--port", "port"]) == 2
    assert "MENDGAUGE_PORT: 'port' is not allowed" in capfd.readouterr().err


def test_an_address_open_to_others_stops_the_start(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["serve", "--host", "0.0.0.0"]) == 2
    assert "MENDGAUGE_OPEN=yes" in capfd.readouterr().err


def test_a_key_is_printed_once_with_what_to_store(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["keys", "new", "depot"]) == 0
    printed = [line.strip() for line in capfd.readouterr().out.splitlines()]
    (stored,) = [line for line in printed if line.startswith("depot:")]
    (key,) = [line for line in printed if line.startswith("mendgauge_")]
    assert KeyRing(stored_keys([stored], "here")).name_of(key) == "depot"
    assert main(["keys", "new", "depot"]) == 0
    assert key not in capfd.readouterr().out
    assert main(["keys", "new", "de:pot"]) == 2
