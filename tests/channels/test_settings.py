import stat
from pathlib import Path

import pytest

from channels.settings import Settings, load_settings
from kb.errors import SettingsError


@pytest.fixture(autouse=True)
def _nothing_set(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)  # no .env of the developer's
    for name in Settings.model_fields:
        monkeypatch.delenv(f"HELPLINE_{name.upper()}", raising=False)


def test_the_environment_sets_and_the_rest_has_defaults(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("HELPLINE_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("HELPLINE_EMERGENCY_REGION", "112")

    settings = load_settings()

    assert settings.database == f"sqlite:///{tmp_path / 'home' / 'helpline.sqlite3'}"
    assert (settings.emergency_region, settings.longest_message) == ("112", 10_000)


def test_a_file_in_the_working_folder_sets_too(tmp_path: Path) -> None:
    (tmp_path / ".env").write_text("HELPLINE_DESK_NAME=Hilltop growers\nOTHER=1\n")

    assert load_settings().desk_name == "Hilltop growers"


def test_the_key_is_made_once_and_is_its_owners_alone(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("HELPLINE_HOME", str(tmp_path / "home"))

    first, again = load_settings().key, load_settings().key

    assert first == again
    assert len(first) == 32
    assert stat.S_IMODE((tmp_path / "home" / "server.key").stat().st_mode) == 0o600


def test_a_damaged_key_is_told_not_replaced(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HELPLINE_HOME", str(tmp_path))
    (tmp_path / "server.key").write_bytes(b"short")

    with pytest.raises(SettingsError, match="5 bytes"):
        _ = load_settings().key


def test_every_fault_is_told_in_one_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HELPLINE_ZONE", "Mars/Olympus")
    monkeypatch.setenv("HELPLINE_DESK_OPENS", "7 am")
    monkeypatch.setenv("HELPLINE_DATABASE_URL", "not an address")

    with pytest.raises(SettingsError) as refused:
        load_settings()

    for name in ("HELPLINE_ZONE", "HELPLINE_DESK_OPENS", "HELPLINE_DATABASE_URL"):
        assert name in refused.value.what


def test_a_home_that_cannot_be_made_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("HELPLINE_HOME", str(tmp_path / "file" / "home"))

    with pytest.raises(SettingsError, match="cannot be made"):
        _ = load_settings().database
