"""
The WebKit of the engine tests: one window of WebKitGTK, driven by WebKitWebDriver, with its storage in a folder that is
named. MiniBrowser in automation has the same engine but keeps everything in memory, so that nothing could be tried
which comes after a kill; and its window is never narrower than 447 px.

    python3 webkithost.py PROFILE WIDTH HEIGHT CONSOLE

CONSOLE is a file that gets the page's console, a line a message, as the engine writes it.
"""

import os
import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import Gtk, WebKit2  # noqa: E402

profile, width, height, console = sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), sys.argv[4]

# The page's process inherits the error output, and that is where its console goes.
os.dup2(os.open(console, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600), 2)

manager = WebKit2.WebsiteDataManager(
    base_data_directory=os.path.join(profile, "data"),
    base_cache_directory=os.path.join(profile, "cache"),
)
context = WebKit2.WebContext.new_with_website_data_manager(manager)
context.set_automation_allowed(True)


def window(*_):
    settings = WebKit2.Settings(enable_write_console_messages_to_stdout=True)
    view = WebKit2.WebView(web_context=context, settings=settings, is_controlled_by_automation=True)
    # No window manager here: the window is as large as it asks to be.
    frame = Gtk.Window(default_width=width, default_height=height, decorated=False)
    frame.add(view)
    frame.show_all()
    view.connect("close", lambda _: frame.destroy())
    return view


def started(_, session):
    about = WebKit2.ApplicationInfo.new()
    about.set_name("WebKitGTK")
    about.set_version(WebKit2.get_major_version(), WebKit2.get_minor_version(), WebKit2.get_micro_version())
    session.set_application_info(about)
    session.connect("create-web-view", window)


context.connect("automation-started", started)
Gtk.main()
