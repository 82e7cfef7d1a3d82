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
    # What a visitor brought is kept for half an hour (app/visits.py): once is enough.
    "server.disconnectedSessionTTL": 30,
    "server.fileWatcherType": "none",
    "server.showEmailPrompt": False,
    "browser.gatherUsageStats": False,
    "logger.level": "warning",
    "client.toolbarMode": "minimal",
    "client.showErrorDetails": "none",
    "theme.baseRadius": "medium",
    "theme.light.primaryColor": "#0b5f5a",
    "theme.light.backgroundColor": "#ffffff",
    "theme.light.secondaryBackgroundColor": "#eef3f2",
    "theme.light.textColor": "#17252b",
    "theme.light.borderColor": "#8fa3a6",
    "theme.dark.primaryColor": "#6fd0c4",
    "theme.dark.backgroundColor": "#131a1b",
    "theme.dark.secondaryBackgroundColor": "#20302f",
    "theme.dark.textColor": "#eaf1f0",
    "theme.dark.borderColor": "#64797b",
}
