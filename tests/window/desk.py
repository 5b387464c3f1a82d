# SPDX-License-Identifier: GPL-3.0-or-later
"""A desk for tests: the window on a display of its own, worked with real key events and read as assistive technology
reads it. What a test believes comes from the office file, by way of the program's own commands."""

import json
import os
import pathlib
import re
import shutil
import signal
import subprocess
import sys
import time

NEEDED = {'xvfb-run': 'the display', 'xdotool': 'the key events', 'xclip': 'the clipboard', 'dbus-run-session': 'a session bus'}
PATIENCE = float(os.environ.get('SEAMTALLY_TEST_PATIENCE', '60'))  # seconds until a condition counts as never met

TAP = re.compile(r'^(\d+\.\.\d+|(not )?ok \d+|#|Bail out!)')

# The leak report of the address sanitizer. Of each stack the last FRAMES calls are kept.
FRAMES = 12
LEAKS = re.compile(r'^=+\n==\d+==ERROR: LeakSanitizer:(?P<leaks>.*?)^SUMMARY: AddressSanitizer:.*?$',
                   re.MULTILINE | re.DOTALL)
OWN_FRAME = re.compile(r' in (?!tally_app_run|main |_start)\S+ .*/src/[a-z]+/[^ ]+\.[ch]:\d+')

# GTK 4.8 gives a widget without a name that of its class.
NO_NAME = re.compile(r'^(Gtk|Gdk|Adw|Tally)[A-Z]\w*$|^\s*$')


def missing():
    """In words, what this test needs and is not here; None when all is here."""
    for program, use in NEEDED.items():
        if not shutil.which(program):
            return f'{program} is not installed; it gives {use}'
    for python in (sys.executable, '/usr/bin/python3'):
        if subprocess.run([python, '-c', 'import gi; gi.require_version("Atspi", "2.0"); from gi.repository import Atspi'],
                          capture_output=True, check=False).returncode == 0:
            missing.python = python
            return None
    return 'python3-pyatspi is not installed: without it nothing reads the window'


def go_there(script):
    """Runs the test again on a display and a session bus of its own; its exit status."""
    # A display starts anew when its last client leaves, and drops who is just coming: the window, between two key events.
    command = ['xvfb-run', '-a', '-s', '-screen 0 1280x800x24 -noreset', 'dbus-run-session', '--', missing.python, '-u',
               str(script), *sys.argv[1:]]
    with subprocess.Popen(command, env=dict(os.environ, SEAMTALLY_TEST_DESK='1'), stdout=subprocess.PIPE, text=True) as there:
        # The services of the bus write to the same place.
        for line in there.stdout:
            print(line if TAP.match(line) else f'# {line}', end='', flush=True)
    return there.returncode


def wait(condition, what, seconds=None):
    """The first true value of the condition. There is no waiting for a program that has ended."""
    deadline = time.monotonic() + (seconds or PATIENCE)
    while True:
        ended = Desk.ended()
        value = condition()
        if value:
            return value
        if ended is not None:
            raise AssertionError(f'{what}: never, the program ended with status {ended}')
        if time.monotonic() > deadline:
            raise AssertionError(f'{what}: not after {seconds or PATIENCE:.0f} s')
        time.sleep(0.05)


def xdo(*args):
    done = subprocess.run(['xdotool', *map(str, args)], capture_output=True, text=True, timeout=60, check=False)
    return done.stdout.strip()


def key(*keys, times=1):
    """Each key or chord in turn, like 'ctrl+Home'."""
    for one in keys:
        xdo('key', '--delay', 4, '--repeat', times, '--repeat-delay', 4, one)


def type_text(text):
    xdo('type', '--delay', 6, text)


def put_on_clipboard(text):
    """The clipboard of another program."""
    # xclip goes on in the background to answer for the text; it must not hold this test's output open.
    subprocess.run(['xclip', '-selection', 'clipboard', '-i'], input=text, text=True, check=True,
                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


# ---- windows ----

def find_window(title):
    """Id of the mapped window with this in its title."""
    for line in xdo('search', '--onlyvisible', '--name', title).split():
        return int(line)
    return None


def to_window(title):
    """Gives a window the keys, as a window manager does on a click: on this display there is none."""
    wid = wait(lambda: find_window(re.escape(title)), f'window “{title}”')

    def has_keys():
        if xdo('getwindowfocus', '-f') == str(wid):
            return True
        xdo('windowfocus', wid)  # refused while the window is not yet on the screen, so asked again
        return False
    wait(has_keys, f'keys go to “{title}”')
    return wid


# ---- the program ----

class Desk:
    """One window on one office file in a folder of its own."""

    process = None

    @staticmethod
    def ended():
        """Exit status of the program that was started last; None while it runs."""
        return Desk.process.poll() if Desk.process else None

    def __init__(self, program, home, job, exact=False):
        """@exact: a sanitizer keeps who asked for each piece of memory, so that a leak of ours is told from one of a
        library; it makes the window five times slower again, so SEAMTALLY_TEST_LEAKS=1 asks for it everywhere."""
        self.program, self.home, self.job = program, pathlib.Path(home), job
        self.office = self.home / 'office.seam'
        self.errors = self.home / 'stderr'
        self.env = dict(os.environ, HOME=str(home), LC_ALL='C.UTF-8', GDK_BACKEND='x11', GSK_RENDERER='cairo',
                        ADW_DISABLE_PORTAL='1', GSETTINGS_BACKEND='memory', G_DEBUG='gc-friendly')
        for name in ('DATA', 'CONFIG', 'CACHE', 'STATE'):
            self.env[f'XDG_{name}_HOME'] = str(self.home / name.lower())
        for name in ('GTK_THEME', 'GTK_A11Y', 'NO_AT_BRIDGE', 'WAYLAND_DISPLAY'):
            self.env.pop(name, None)
        # No GL: nothing here is drawn with it, and its drivers leave memory behind when they are unloaded.
        self.window_env = dict(self.env, GDK_DEBUG='gl-disable', GDK_DISABLE='gl,vulkan')
        supp = pathlib.Path(__file__).resolve().with_name('lsan.supp')
        self.window_env['LSAN_OPTIONS'] = f'suppressions={supp}:print_suppressions=0'
        if 'ASAN_OPTIONS' in self.env and (exact or os.environ.get('SEAMTALLY_TEST_LEAKS')):
            # Else the stacks end in the first library of the system that keeps no frame pointers.
            self.window_env['ASAN_OPTIONS'] = f'{self.env["ASAN_OPTIONS"]}:fast_unwind_on_malloc=0:malloc_context_size={FRAMES}'

    def open(self, *what):
        """Starts the window; @what: other than the demo job."""
        with open(self.errors, 'wb') as errors:
            Desk.process = subprocess.Popen([self.program, 'window', *(what or ['--demo']), '--office', str(self.office)],
                                            env=self.window_env, stderr=errors, stdout=errors)
        return self

    def alive(self):
        return self.process and self.process.poll() is None

    def kill(self):
        if self.alive():
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()

    def state(self):
        """In words, how the program and the display are: for a step that failed."""
        status = self.process.poll() if self.process else 'not started'
        focus = xdo('getwindowfocus')
        windows = {wid: xdo('getwindowname', wid) for wid in xdo('search', '--onlyvisible', '--name', '.').split()}
        lines = [f'the program {"runs" if status is None else f"ended with status {status}"}',
                 f'the keys go to window {focus} “{windows.get(focus, xdo("getwindowname", focus) if focus else "")}”; '
                 f'on the screen: {", ".join(f"{wid} “{name}”" for wid, name in windows.items()) or "nothing"}',
                 f'it said: {self.said()[-3000:] or "nothing"}']
        look = os.environ.get('SEAMTALLY_TEST_ON_FAILURE')
        if look:  # a program of one's own that looks closer while all is still there; it gets the process id
            subprocess.run([look, str(self.process.pid if self.process else 0)], check=False, timeout=120, stdout=sys.stderr)
        return '\n'.join(lines)

    def said(self):
        """What the window wrote on stderr."""
        return self.errors.read_text(errors='replace')

    def said_apart(self):
        """What it wrote, and apart from that the leaks a sanitizer found in which a function of the program stands near
        the end; what libraries keep among themselves is theirs."""
        said = self.said()
        report = LEAKS.search(said)
        if not report:
            return said, []
        leaks = re.split(r'^(?=Direct leak|Indirect leak)', report['leaks'], flags=re.MULTILINE)[1:]
        own = [leak for leak in leaks if any(OWN_FRAME.search(line) for line in leak.splitlines())]
        return said[:report.start()] + said[report.end():], own

    def command(self, *args):
        """Standard output of a command on the office file."""
        done = subprocess.run([self.program, *map(str, args)], capture_output=True, text=True, env=self.env, timeout=120,
                              check=False)
        if done.returncode not in (0, 1):
            raise AssertionError(f'{args}: exit {done.returncode}\n{done.stderr[-1500:]}')
        return done.stdout

    def price(self):
        """The job as it is on disk: runs (all), not_priced, price, faults."""
        text = self.command('price', '--office', self.office, '--job', self.job, '--jsonl')
        rows = [json.loads(line) for line in text.splitlines() if line]
        whole = [r for r in rows if r['table'] == 'totals' and r['area'] is None][-1]
        return {'runs': whole['runs'] + whole['not_priced'], 'not_priced': whole['not_priced'], 'price': whole['price'],
                'faults': [r for r in rows if r['table'] == 'not_priced']}

    def wait_price(self, condition, what):
        """The job on disk as soon as it meets the condition."""
        seen = {}

        def look():
            seen.update(self.price())
            return condition(seen)
        try:
            wait(look, what)
        except AssertionError as error:
            raise AssertionError(f'{error}; on disk: {seen}; window: {"alive" if self.alive() else "gone"}\n'
                                 f'{self.said()[-1500:]}') from None
        return dict(seen)


# ---- what assistive technology sees ----

class Eyes:
    """The tree of accessible objects of the window's application."""

    def __init__(self):
        import gi
        gi.require_version('Atspi', '2.0')
        from gi.repository import Atspi, GLib
        self.atspi, self.gone = Atspi, GLib.Error
        Atspi.init()
        Atspi.set_timeout(30000, 60000)  # a sanitizer makes the window slow
        self.app = wait(self._find, 'the window on the accessibility bus')

    def _find(self):
        desktop = self.atspi.get_desktop(0)
        desktop.clear_cache()
        for i in range(desktop.get_child_count()):
            app = desktop.get_child_at_index(i)
            if app and app.get_child_count():
                # Nothing handles events here, so nothing kept would ever be renewed.
                app.set_cache_mask(self.atspi.Cache.NONE)
                return app
        return None

    def walk(self, root=None, path=()):
        """Every object below, with the objects above it; those that go away meanwhile are left out."""
        root = root or self.app
        yield root, path
        for i in range(self._children(root)):
            try:
                child = root.get_child_at_index(i)
            except self.gone:
                continue
            if child:
                yield from self.walk(child, (*path, root))

    def _children(self, thing):
        try:
            return thing.get_child_count()
        except self.gone:
            return 0

    def has(self, thing, state):
        return thing.get_state_set().contains(getattr(self.atspi.StateType, state))

    def find(self, name, role=None, root=None):
        """The first object of this name (a string or a pattern) and role."""
        for thing, _ in self.walk(root):
            try:
                own = thing.get_name()
                if (name.search(own) if hasattr(name, 'search') else own == name) and \
                   (role is None or thing.get_role() == getattr(self.atspi.Role, role)):
                    return thing
            except self.gone:
                continue
        return None

    def wait_find(self, name, role=None, root=None):
        return wait(lambda: self.find(name, role, root), f'{role or "object"} named {name}')

    def window(self, title):
        """The top of the window with this in its title. Not by a walk: the windows stand side by side."""
        def look():
            for i in range(self._children(self.app)):
                try:
                    top = self.app.get_child_at_index(i)
                    if top and title in (top.get_name() or ''):
                        return top
                except self.gone:
                    continue
            return None
        return wait(look, f'window “{title}” on the accessibility bus')

    def tab_to(self, thing, what):
        """Goes on from control to control until this one has the keys; Ctrl, because Tab alone stays in a table."""
        for _ in range(120):
            if self.has(thing, 'FOCUSED'):
                return
            key('ctrl+Tab')
            time.sleep(0.02)
        raise AssertionError(f'Ctrl+Tab does not come to {what}')

    def press(self, name, role=None, root=None):
        """The control's own action."""
        thing = self.wait_find(name, role, root)
        assert thing.get_action_iface().do_action(0), f'{name} cannot be pressed'


def press_until(chord, condition, what):
    """Presses a chord that may be pressed again without harm until it did its work."""
    deadline = time.monotonic() + PATIENCE
    while True:
        key(chord)
        try:
            return wait(condition, f'{what} after {chord}', 5)
        except AssertionError:
            if time.monotonic() > deadline:
                raise


class Table:
    """A table that tells where its cursor is: "Row 3, Size (in), 24x12: ..."."""

    WHERE = re.compile(r'^(?:Row (?P<row>\d+)|New row), (?P<title>[^,(]+?)(?: \((?P<unit>[^)]*)\))?, (?P<text>.*)$', re.DOTALL)

    def __init__(self, eyes, name):
        self.eyes, self.name = eyes, name
        self.thing = eyes.wait_find(name, 'TABLE')

    def description(self):
        return self.thing.get_description() or ''

    def cell(self):
        """(row from 1 or None for the empty one, title, rest of the words)."""
        match = self.WHERE.match(self.description())
        return (int(match['row']) if match['row'] else None, match['title'], match['text']) if match else (0, '', '')

    def at(self, row, title):
        wait(lambda: self.cell()[:2] == (row, title), f'cursor in {self.name}, row {row}, {title} (it is at {self.cell()})')

    def titles(self):
        """The columns as the cursor meets them in the first row."""
        key('ctrl+Home')
        found = [wait(lambda: self.cell()[0] in (1, None) and self.cell()[1], f'first row of {self.name}')]
        key('End')
        last = wait(lambda: self.cell()[1] != found[0] and self.cell()[1], f'last column of {self.name}')
        key('Home')
        wait(lambda: self.cell()[1] == found[0], f'first column of {self.name}')
        while found[-1] != last:
            key('Right')
            found.append(wait(lambda: self.cell()[1] != found[-1] and self.cell()[1], f'column {len(found) + 1} of {self.name}'))
        return found

    def go(self, row, title, titles):
        """Row from 1; None: the empty row below the last."""
        if row is None:
            key('ctrl+End', 'Down', 'Home')
        else:
            key('ctrl+Home')
            if row > 1:
                key('Down', times=row - 1)
        if titles.index(title):
            key('Right', times=titles.index(title))
        self.at(row, title)
