"""How Streamlit is run: one list for ``pose-fit app``, repeated in ``.streamlit/config.toml``."""

from typing import Final

__all__ = ["SETTINGS", "UPLOAD_LIMIT_MB"]

#: A 12-megapixel photo is 2 to 6 MB; a catalogue is far smaller.
UPLOAD_LIMIT_MB: Final = 30

#: Streamlit's options. Loopback only: the family's photos are nobody else's business, and who
#: wants the app on a network puts a proxy with encryption in front of it.
SETTINGS: Final[dict[str, str | int | bool]] = {
    "server.address": "127.0.0.1",
    "server.maxUploadSize": UPLOAD_LIMIT_MB,
    "server.fileWatcherType": "none",
    "server.showEmailPrompt": False,
    "browser.gatherUsageStats": False,
    "logger.level": "warning",
    "client.toolbarMode": "minimal",
    "client.showErrorDetails": "none",
    "theme.base": "light",
    "theme.primaryColor": "#0b5f5a",
    "theme.backgroundColor": "#ffffff",
    "theme.secondaryBackgroundColor": "#eef3f2",
    "theme.textColor": "#17252b",
    "theme.borderColor": "#8fa3a6",
    "theme.baseRadius": "medium",
}
