import pytest

from webapp.config import SettingError, Settings, assets_dir, content_dir, read_settings


def test_without_a_word_in_the_environment_there_are_usable_settings():
    settings = read_settings({})
    assert settings.origin == "http://127.0.0.1:8765"
    assert settings.listens_on == ("127.0.0.1", 8765)
    assert settings.locales == ("en",)
    assert not settings.is_secure


def test_every_setting_is_read():
    told = {
        "HALFTURN_DB": "/srv/half.db", "HALFTURN_ORIGIN": "https://Halfturn.example/", "HALFTURN_LOCALES": "de, en,de",
        "HALFTURN_LISTEN": "127.0.0.1:9000", "HALFTURN_PROXIES": "1",
    }  # fmt: skip
    settings = read_settings(told)
    assert (str(settings.db), settings.origin, settings.locales) == (
        "/srv/half.db",
        "https://halfturn.example",
        ("de", "en"),
    )
    assert (settings.listens_on, settings.proxies, settings.host) == (("127.0.0.1", 9000), 1, "halfturn.example")
    assert settings.device_cookie == "__Host-halfturn_device"


def test_without_tls_the_cookies_have_plain_names():
    assert Settings().device_cookie == "halfturn_device"


@pytest.mark.parametrize("origin", ["halfturn.example", "ftp://halfturn.example", "https://", "https://a.example/path"])
def test_an_origin_that_is_none_is_named_with_the_rule(origin):
    with pytest.raises(SettingError, match=f"HALFTURN_ORIGIN is '{origin}'; it must be a scheme, a host"):
        read_settings({"HALFTURN_ORIGIN": origin})


def test_a_count_of_proxies_that_is_none_is_named_with_the_rule():
    with pytest.raises(SettingError, match="HALFTURN_PROXIES is 'one'; it must be a whole number"):
        read_settings({"HALFTURN_PROXIES": "one"})


def test_the_folders_of_content_and_of_assets_are_found():
    assert (content_dir() / "sources.toml").is_file()
    assert (assets_dir() / "service_worker.js").is_file()
