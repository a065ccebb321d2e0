import pytest

from webapp.config import SettingError, Settings, content_dir, read_settings


def test_without_a_word_in_the_environment_there_are_usable_settings():
    settings = read_settings({})
    assert settings.origin == "http://127.0.0.1:8765"
    assert settings.listens_on == ("127.0.0.1", 8765)
    assert settings.locales == ("en",)
    assert not settings.is_secure


def test_every_setting_is_read():
    environ = {
        "HALFTURN_DB": "/srv/half.db", "HALFTURN_ORIGIN": "https://Halfturn.example/", "HALFTURN_LOCALES": "de, en,de",
        "HALFTURN_LISTEN": "127.0.0.1:9000", "HALFTURN_PROXIES": "1",
    }  # fmt: skip
    settings = read_settings(environ)
    assert (str(settings.db), settings.origin, settings.locales) == (
        "/srv/half.db",
        "https://halfturn.example",
        ("de", "en"),
    )
    assert (settings.listens_on, settings.proxies, settings.host) == (("127.0.0.1", 9000), 1, "halfturn.example")
    assert settings.device_cookie == "__Host-halfturn_device"


def test_without_tls_the_cookies_have_plain_names():
    assert Settings().device_cookie == "halfturn_device"


BEHIND_A_PROXY = ("127.0.0.1", 8765)


@pytest.mark.parametrize(
    ("origin", "address"),
    [
        ("http://127.0.0.1:9000", ("127.0.0.1", 9000)),
        ("http://192.0.2.7", ("192.0.2.7", 80)),
        ("http://[::1]:9000", ("::1", 9000)),
        ("http://localhost:9000", ("localhost", 9000)),
        ("https://wrist.example", BEHIND_A_PROXY),
        ("http://wrist.example:8000", BEHIND_A_PROXY),
        ("https://localhost:9000", BEHIND_A_PROXY),
        ("https://192.0.2.7", BEHIND_A_PROXY),
    ],
)
def test_it_listens_where_a_plain_origin_says_and_else_behind_a_proxy(origin, address):
    assert read_settings({"HALFTURN_ORIGIN": origin}).listens_on == address


@pytest.mark.parametrize(
    ("listen", "address"),
    [("192.0.2.7:80", ("192.0.2.7", 80)), ("[::1]:9000", ("::1", 9000)), ("localhost:9000", ("localhost", 9000))],
)
def test_an_address_to_listen_on_goes_before_the_origin(listen, address):
    assert read_settings({"HALFTURN_LISTEN": listen}).listens_on == address


@pytest.mark.parametrize(
    "listen",
    [
        "8765",
        ":8765",
        "127.0.0.1",
        "127.0.0.1:0",
        "127.0.0.1:65536",
        "wrist.example:80",
        "127.0.0.1:8765/",
        "me@127.0.0.1:1",
    ],
)
def test_an_address_that_nobody_can_listen_on_is_named_with_the_rule(listen):
    with pytest.raises(SettingError, match=f"HALFTURN_LISTEN is '{listen}'; it must be an address of this machine"):
        read_settings({"HALFTURN_LISTEN": listen})


@pytest.mark.parametrize(
    "origin",
    [
        "halfturn.example", "ftp://halfturn.example", "https://", "https://a.example/path", "https://a.example:99999",
        "https://a.example:port", "https://me@a.example", "https://a.example#part",
    ],
)  # fmt: skip
def test_an_origin_that_is_none_is_named_with_the_rule(origin):
    with pytest.raises(SettingError, match=f"HALFTURN_ORIGIN is '{origin}'; it must be a scheme, a host"):
        read_settings({"HALFTURN_ORIGIN": origin})


@pytest.mark.parametrize("count", ["one", "-1", "1.0", "10", "\N{SUPERSCRIPT TWO}", "9" * 5000])
def test_a_count_of_proxies_that_is_none_is_named_with_the_rule(count):
    with pytest.raises(SettingError, match=f"HALFTURN_PROXIES is '{count}'; it must be a whole number from 0 to 9"):
        read_settings({"HALFTURN_PROXIES": count})


def test_the_folder_of_content_is_found():
    assert (content_dir() / "sources.toml").is_file()
