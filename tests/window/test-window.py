#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The window as an estimator meets it: the demo job opened, runs typed, pasted, filled, undone, a class raised, the workbook
written, hours entered, the window closed. Keys are real key events; what came of them is read from the office file by the
program's commands, and what is on the screen as assistive technology reads it.
Usage: test-window.py PROGRAM"""

import csv
import os
import pathlib
import re
import time
import sqlite3
import sys
import tempfile
import traceback
import xml.etree.ElementTree
import zipfile

HERE = pathlib.Path(__file__).resolve()
sys.path.insert(0, str(HERE.parent.parent))
sys.path.insert(0, str(HERE.parent))
sys.dont_write_bytecode = True
import tap  # noqa: E402
import desk as d  # noqa: E402
from desk import key, type_text, wait  # noqa: E402

JOB = 'Brindlemoor Archive and Reading Rooms'  # invented demo
RUNS = 115                                      # invented demo
LARGE = 20000
TOAST = 30  # seconds after which the last one is gone
VIEWS = ['Runs', 'Methods', 'Price', 'Hours', 'Closeout']

# Lines on stderr that say nothing about the window. Each with its reason.
HARMLESS = [
    # From GTK 4.16 on this stands in GDK_DISABLE; older ones read it here.
    r'gl-disable',
]

PASTED = ''.join(f'SA-1\tLevel 1\tM-201\tstraight\t{24 + 2 * i}x12\t{10 + i}\t1\t4\n' for i in range(20))

w = None      # the desk
eyes = None
runs = None   # the table of runs
shown = {}    # labels that are read again and again
titles = []
first = {}    # the job on disk as it was opened
steps = 0     # what there is to undo


def step(condition, what, n=1):
    """An edit came through: the job on disk, which is also what the screen says."""
    global steps
    now = w.wait_price(condition, what)
    steps += n
    on_screen(now)
    return now


def on_screen(now):
    """The conclusion above the table and the price of the totals line are those of the office file."""
    if now['not_priced']:
        words = f'{now["not_priced"]} of {now["runs"]} runs {"is" if now["not_priced"] == 1 else "are"} not priced.'
    else:
        words = f'{now["runs"]} runs, every one priced.'
    price = f'{round(now["price"]):,}'

    if not shown:
        shown['conclusion'] = eyes.wait_find(words, 'LABEL')
        shown['price'] = eyes.wait_find(price, 'LABEL', eyes.wait_find('not priced', 'LABEL').get_parent().get_parent().get_parent())
        shown['undo'] = eyes.wait_find('Undo', 'LABEL')
    wait(lambda: shown['conclusion'].get_name() == words and shown['price'].get_name() == price,
         f'on the screen: “{words}” and {price}')


def last_undo():
    return shown['undo'].get_name()


def to_table():
    d.to_window(JOB)
    d.press_until('ctrl+g', lambda: eyes.has(runs.thing, 'FOCUSED'), 'the table has the keys')


def from_menu(letter):
    if 'menu' not in shown:
        shown['menu'] = eyes.wait_find('Main menu', 'PUSH_BUTTON')
    key('F10')
    first_item = eyes.wait_find('Jobs…', 'MENU_ITEM', shown['menu'])
    wait(lambda: eyes.has(first_item, 'FOCUSED'), 'the main menu is open')
    key(letter)


# ---- the steps, in this order ----

def test_demo_opens():
    global eyes, runs, titles
    w.open()
    try:
        d.to_window(JOB)
    except AssertionError as error:
        raise AssertionError(f'{error}; the window is {"there" if w.alive() else "gone"}\n{w.said()}') from None
    eyes = d.Eyes()
    runs = d.Table(eyes, 'Runs')
    first.update(w.wait_price(lambda now: now['runs'] == RUNS, f'{RUNS} runs'))
    assert first['not_priced'] == 0, first
    assert abs(first['price'] - 207590.42) < 0.02, first  # invented demo
    on_screen(first)
    to_table()
    titles = runs.titles()
    assert titles[:8] == ['System', 'Area', 'Drawing', 'Kind', 'Size', 'Length', 'Count', 'Class'], titles


def test_cell_is_announced():
    with open(HERE.parent.parent.parent / 'data' / 'demo-runs.csv', encoding='utf-8') as source:
        rows = list(csv.DictReader(line for line in source if not line.startswith('#')))
    for row, title, column in ((1, 'System', 'system'), (3, 'Area', 'area'), (4, 'Length', 'length'), (2, 'Kind', 'kind')):
        runs.go(row, title, titles)
        text = rows[row - 1][column]
        words = runs.description()
        assert re.match(rf'Row {row}, {title}( \([^)]+\))?, {re.escape(text)}[.,:]', words), (words, text)
        inside = [eyes.atspi.Accessible.get_name(runs.thing.get_child_at_index(i)) for i in range(runs.thing.get_child_count())]
        assert any(words.startswith(label) for label in inside if label), (words, inside)


def test_refusal_is_said():
    to_table()
    key('ctrl+Home', 'End')
    wait(lambda: ', computed' in runs.cell()[2], f'a computed cell; the cursor is at {runs.cell()}')
    words = f'{runs.cell()[1]} is computed: change what it follows from'
    type_text('5')
    eyes.wait_find(words, 'LABEL')
    wait(lambda: runs.description().startswith(words), 'assistive technology hears it too')
    key('Home')
    wait(lambda: eyes.find(words, 'LABEL') is None, 'the words go when the cursor goes')
    assert w.price() == first


def test_run_by_line():
    to_table()
    key('ctrl+l')
    type_text('elbow 24x12 90 @2 x3')
    key('Return')
    now = step(lambda now: now['runs'] == RUNS + 1, 'one run more')
    assert now['not_priced'] == 0 and now['price'] > first['price'] + 100, (first, now)
    wait(lambda: last_undo() == 'Undo entry of a run', 'the name of the step')


def test_run_by_cells():
    global steps
    to_table()
    before = w.price()
    runs.go(None, 'Kind', titles)
    type_text('straight')
    key('Tab')
    type_text('24x12')
    key('Tab', 'Tab', 'Tab')
    type_text('2')
    key('Tab')
    # The length last: only with it the run is priced.
    runs.go(RUNS + 2, 'Length', titles)
    type_text('20')
    key('Return')
    now = step(lambda now: now['runs'] == RUNS + 2 and now['not_priced'] == 0, 'a run typed by cells', 4)
    assert now['price'] > before['price'] + 100, (before, now)


def test_bad_cell_keeps_its_text():
    to_table()
    before = w.price()
    runs.go(RUNS + 2, 'Size', titles)
    type_text('12x1o')
    key('Return')
    now = step(lambda now: now['not_priced'] == 1, 'one run not priced')
    assert now['faults'][0]['field'] == 'size' and '12x1o' in now['faults'][0]['what'], now
    assert now['price'] < before['price']
    runs.go(RUNS + 2, 'Size', titles)
    wait(lambda: runs.cell()[2].startswith('12x1o, faulty: Not priced: '), 'the cell says what it holds and why it is faulty')
    type_text('24x12')
    key('Return')
    now = step(lambda now: now['not_priced'] == 0, 'priced again')
    assert now['price'] == before['price'], (before, now)


def test_paste_of_twenty_rows():
    to_table()
    before = w.price()
    runs.go(None, 'System', titles)
    d.put_on_clipboard(PASTED)
    key('ctrl+v')
    now = step(lambda now: now['runs'] == before['runs'] + 20, '20 runs more')
    assert now['not_priced'] == 0 and now['price'] > before['price'] + 1000, (before, now)
    wait(lambda: last_undo() == 'Undo paste of 160 cells', f'the name of the step; it is “{last_undo()}”')
    key('ctrl+z')
    back = w.wait_price(lambda now: now['runs'] == before['runs'], 'all 20 taken back by one undo')
    assert back == before, (before, back)
    key('ctrl+shift+z')
    again = w.wait_price(lambda now: now['runs'] == before['runs'] + 20, 'all 20 there again by one redo')
    assert again == now, (now, again)
    on_screen(again)


def test_fill_down():
    to_table()
    before = w.price()
    runs.go(RUNS + 3, 'Length', titles)
    key('shift+Down', times=4)
    wait(lambda: '5 rows by 1 columns selected' in runs.description(), 'five cells are selected')
    key('ctrl+d')
    now = step(lambda now: now['price'] != before['price'], 'another price')
    assert now['runs'] == before['runs'] and now['price'] < before['price'], (before, now)
    wait(lambda: last_undo() == 'Undo fill down of 4 cells', 'the name of the step')
    runs.go(RUNS + 7, 'Length', titles)
    wait(lambda: re.match('10[.,:]', runs.cell()[2]), 'the last cell filled holds the first one\'s text')


def test_undo_to_the_start_and_redo():
    to_table()
    last = w.price()
    for back in range(2):
        key('ctrl+z', times=steps)
        start = w.wait_price(lambda now: now['runs'] == RUNS, 'undone to the start')
        assert start == first, (first, start)
        wait(lambda: last_undo() == 'Undo', f'nothing more to undo; there is “{last_undo()}”')
        key('ctrl+z')  # one too many: nothing
        on_screen(first)
        assert w.price() == first
        if back == 0:
            key('ctrl+shift+z', times=steps)
            end = w.wait_price(lambda now: now == last, 'all done again')
            on_screen(end)


def test_class_of_a_cell_raised():
    d.to_window(JOB)
    from_menu('s')
    d.to_window('Systems and areas')
    eyes.press('System by area', 'PAGE_TAB')
    cells = d.Table(eyes, 'System by area')
    eyes.tab_to(cells.thing, 'the sheet of cells')
    columns = cells.titles()
    assert columns[:2] == ['System', 'Area'], columns
    found = None
    for row in range(1, 10):
        cells.go(row, 'System', columns)
        system = cells.cell()[2]
        cells.go(row, 'Area', columns)
        if system.startswith('SA-1') and cells.cell()[2].startswith('Level 1'):
            found = row
            break
    cells.go(found, 'Class', columns)
    assert cells.cell()[2].startswith('4'), cells.cell()
    type_text('6')
    key('Return')
    now = w.wait_price(lambda now: now['price'] != first['price'], 'another price')
    # invented demo: the addendum raises the cell SA-1 x Level 1 from class 4 to 6
    assert abs(now['price'] - first['price'] - 2799.76) < 0.03, (first, now)
    on_screen(now)
    key('Escape')
    wait(lambda: d.find_window('Systems and areas') is None, 'the window beside is closed')


def test_condition_of_the_job():
    """Labour of this job: one condition of the whole job is one edit, said first in hours, and undone from there."""
    before = w.wait_price(lambda now: True, 'the price before')
    d.to_window(JOB)
    from_menu('l')
    d.to_window('Labour of this job')
    top = eyes.window('Labour of this job')
    was = eyes.wait_find(re.compile(r'^Conditions add \d+\.\d field worker-hours'), 'LABEL', top).get_name()
    check = eyes.wait_find(re.compile('^high work, × 1.15, air: '), 'CHECK_BOX', top)
    for _ in range(12):
        if eyes.has(check, 'FOCUSED'):
            break
        key('Tab')
    wait(lambda: eyes.has(check, 'FOCUSED'), 'the condition has the keys')
    key('space')
    now = w.wait_price(lambda now: now['price'] > before['price'] + 1000, 'a dearer job')
    on_screen(now)
    eyes.wait_find(re.compile(r'^Conditions add (?!%s)\d+\.\d field worker-hours' % re.escape(was.split()[2])), 'LABEL', top)
    key('ctrl+z')
    w.wait_price(lambda now: now['price'] == before['price'], 'the price as before')
    key('Escape')
    wait(lambda: d.find_window('Labour of this job') is None, 'the window beside is closed')


def sheets_of(path):
    with zipfile.ZipFile(path) as book:
        assert book.testzip() is None
        root = xml.etree.ElementTree.fromstring(book.read('xl/workbook.xml'))
    return [sheet.get('name') for sheet in root.iter('{http://schemas.openxmlformats.org/spreadsheetml/2006/main}sheet')]


def write_workbook(job, path):
    d.to_window(job)
    key('ctrl+e')
    d.to_window('Write workbook')
    key('ctrl+a')
    type_text(str(path.relative_to(w.home)))  # the chooser starts there; on the way through other folders it reads them all
    key('Return')
    wait(lambda: d.find_window('Write workbook') is None, 'the file chooser is closed')


def test_workbook_is_written():
    path = w.home / 'out' / 'price.xlsx'
    path.parent.mkdir()
    write_workbook(JOB, path)
    wait(path.exists, 'the workbook')
    assert sheets_of(path) == ['Price', 'Build-up', 'Runs', 'Materials', 'Minutes', 'Methods', 'Construction',
                               'Sources and cautions'], sheets_of(path)
    assert [p.name for p in path.parent.iterdir()] == ['price.xlsx'], list(path.parent.iterdir())


def hours_on_disk():
    store = sqlite3.connect(f'file:{w.office}?mode=ro', uri=True)
    try:
        return store.execute('SELECT day, area_id, worker_mh FROM hours ORDER BY day, worker_mh').fetchall()
    finally:
        store.close()


def test_hours_are_entered():
    assert hours_on_disk() == []
    d.to_window(JOB)
    key('alt+4')
    week = d.Table(eyes, 'Time sheet of a week')
    eyes.tab_to(week.thing, 'the time sheet')
    columns = week.titles()
    assert columns[:2] == ['Area', 'Step group'] and len(columns) == 10, columns
    week.go(1, columns[2], columns)
    type_text('6.5')
    key('Tab')
    type_text('8')
    key('Return')
    rows = wait(lambda: len(hours_on_disk()) == 2 and hours_on_disk(), 'hours in the office file')
    assert [r[2] for r in rows] == [6500, 8000], rows          # thousandths of a worker-hour
    assert rows[1][0] == rows[0][0] + 1 and rows[0][1] == 0, rows  # the day after, on the whole job
    monday = rows[0][0]
    # Julian days of GLib: day 1 is Monday, the first of January of the year 1
    assert monday % 7 == 1, monday


METHOD_PAGES = ['Compare', 'What if', 'Mix', 'Risk', 'Memo']


def settings_on_disk():
    store = sqlite3.connect(f'file:{w.office}?mode=ro', uri=True)
    try:
        return dict(store.execute('SELECT key, value FROM setting'))
    finally:
        store.close()


def test_pages_of_methods():
    d.to_window(JOB)
    key('alt+2')
    first_page = eyes.wait_find(METHOD_PAGES[0], 'PAGE_TAB')
    tabs = [eyes.wait_find(name, 'PAGE_TAB', first_page.get_parent()) for name in METHOD_PAGES]
    wait(lambda: eyes.has(tabs[0], 'SELECTED'), 'the page Compare')
    for name, tab in zip(METHOD_PAGES[1:], tabs[1:]):
        key('ctrl+Next')
        wait(lambda t=tab: eyes.has(t, 'SELECTED'), f'the page {name}')
    eyes.wait_find('Copy as text', 'PUSH_BUTTON')
    key('ctrl+Next')
    wait(lambda: eyes.has(tabs[0], 'SELECTED'), 'round about to Compare')


def test_limit_of_the_mix_is_kept_and_undone():
    before = settings_on_disk()
    assert 'mix.methods' not in before, before
    d.to_window(JOB)
    key('alt+2')
    mix = eyes.wait_find('Mix', 'PAGE_TAB')
    d.press_until('ctrl+Next', lambda: eyes.has(mix, 'SELECTED'), 'the page Mix')
    entry = eyes.wait_find('At most so many methods', 'TEXT')
    for _ in range(20):  # Ctrl+Tab would leave the page
        if eyes.has(entry, 'FOCUSED'):
            break
        key('Tab')
    wait(lambda: eyes.has(entry, 'FOCUSED'), 'the limit on methods has the keys')
    type_text('1')
    key('Return')
    wait(lambda: settings_on_disk().get('mix.methods') == '1', 'the limit in the office file')
    type_text('2')
    key('Return')
    wait(lambda: settings_on_disk().get('mix.methods') == '12', 'another limit in the office file')
    # From within the entry, which has no undo of its own, and which would take over what it holds when the keys leave it.
    assert eyes.has(entry, 'FOCUSED')
    key('ctrl+z')
    wait(lambda: settings_on_disk().get('mix.methods') == '1', 'the limit before')
    key('ctrl+z')
    wait(lambda: settings_on_disk() == before, 'the limit undone')
    key('Tab')
    wait(lambda: not eyes.has(entry, 'FOCUSED'), 'the keys are elsewhere')
    assert settings_on_disk() == before


def is_bare(thing, path):
    """A control that takes the keys and has no name or no role."""
    if not eyes.has(thing, 'FOCUSABLE'):
        return False
    role, roles = thing.get_role(), eyes.atspi.Role
    # GTK's own: the button of a drop-down that is named itself, and the rows of its list.
    outer = next((p for p in reversed(path) if p.get_role() == roles.COMBO_BOX), None)
    if outer is not None and not d.NO_NAME.match(outer.get_name() or ''):
        return False
    # libadwaita's own: what its window of preferences keeps for a search, which is off there.
    if any((p.get_name() or '') == 'Preferences' for p in path) and \
       ('No Results Found' in [p.get_name() for p in path] or d.NO_NAME.match(thing.get_name() or '') and
            role in (roles.ENTRY, roles.LIST)):
        return False
    # GTK's own: a scrolled window and a divider pass the keys on to what is inside.
    if role in (roles.SCROLL_PANE, roles.SPLIT_PANE, roles.FILLER) and \
       any(eyes.has(inner, 'FOCUSABLE') for inner, above in eyes.walk(thing) if above):
        return False
    return bool(d.NO_NAME.match(thing.get_name() or '')) or role in (roles.INVALID, roles.UNKNOWN, roles.FILLER)


def is_bare_still(thing, path):
    try:
        return not eyes.has(thing, 'DEFUNCT') and is_bare(thing, path)
    except eyes.gone:  # went away meanwhile
        return False


def bare_controls(root):
    """What is bare, with the objects above; how many controls there are."""
    bare, n = [], 0
    for thing, path in eyes.walk(root):
        try:
            n += eyes.has(thing, 'FOCUSABLE')
        except eyes.gone:
            continue
        if is_bare_still(thing, path):
            bare.append((thing, path))
    return bare, n


def in_words(thing, path):
    where = ' > '.join(p.get_name() for p in path if not d.NO_NAME.match(p.get_name() or ''))
    return f'{thing.get_role_name()} “{thing.get_name()}” in {where}'


def test_every_control_has_a_name_and_a_role():
    d.to_window(JOB)
    key('shift+F9')
    tabs = eyes.wait_find(VIEWS[0], 'PAGE_TAB').get_parent()
    for number, view in enumerate(VIEWS, 1):
        tab = eyes.wait_find(view, 'PAGE_TAB', tabs)
        d.press_until(f'alt+{number}', lambda t=tab: eyes.has(t, 'SELECTED'), f'view {view}')
    # A view fills itself when it is first looked at; then all of them are in the tree.
    bare, n = bare_controls(eyes.window(JOB))
    assert n > 100, f'only {n} controls take the keys'
    # A toast of libadwaita 1.2 closes by a button without a name; it goes by itself, and what is ours stays.
    end = time.monotonic() + TOAST
    while bare and time.monotonic() < end:
        time.sleep(0.2)
        bare = [one for one in bare if is_bare_still(*one)]
    assert not bare, '\n'.join(in_words(*one) for one in bare)


SIDE_WINDOWS = [('s', 'Systems and areas'), ('j', 'Jobs'), ('c', 'Catalogue'), ('p', 'Preferences'), ('i', 'Import'),
                ('e', 'Time studies'), ('l', 'Labour of this job')]


def test_every_control_of_the_windows_beside_has_a_name_and_a_role():
    bare = []
    for letter, title in SIDE_WINDOWS:
        d.to_window(JOB)
        from_menu(letter)
        d.to_window(title)
        found, n = bare_controls(eyes.window(title))
        assert n > 2, f'only {n} controls of {title} take the keys'
        bare += [in_words(*one) for one in found]
        key('Escape')
        wait(lambda t=title: d.find_window(t) is None, f'{title} is closed')
    assert not bare, '\n'.join(bare)


def close_cleanly():
    d.to_window(w.job)
    key('ctrl+q')
    wait(lambda: not w.alive(), 'the window is gone')
    said, leaks = w.said_apart()
    loud = [line for line in said.splitlines()
            if line.strip() and not any(re.search(pattern, line) for pattern in HARMLESS)]
    assert not leaks, ''.join(leaks[:5])
    # A sanitizer that found nothing but what libraries keep ends with a status of its own.
    good = (0, 1) if said != w.said() else (0,)
    assert w.process.returncode in good, f'exit {w.process.returncode}\n' + '\n'.join(loud[:200])
    assert not loud, '\n'.join(loud[:200])


def test_closes_cleanly():
    close_cleanly()


def test_closing_takes_the_unfinished_workbook_away():
    global w  # keys alone: libatspi does not outlive the program it looked at
    w = d.Desk(w.program, w.home / 'large', 'Large', exact=True)
    table, folder = w.home / 'runs.csv', w.home / 'out'
    folder.mkdir(parents=True)
    # invented demo; so many that writing them takes far longer than closing the window
    table.write_text('kind,size,length,count\n' + ''.join(f'straight,{12 + i % 40}x12,{10 + i % 30},1\n' for i in range(LARGE)))
    w.command('import', table, '--office', w.office, '--job', w.job)
    w.open('--job', w.job)
    d.to_window(w.job)
    for number in range(len(VIEWS), 0, -1):  # each fills itself when it is first looked at
        key(f'alt+{number}')
    write_workbook(w.job, folder / 'price.xlsx')
    wait(lambda: list(folder.iterdir()), 'the workbook is being written')
    close_cleanly()
    left = [path.name for path in folder.iterdir() if path.name != 'price.xlsx']
    assert not left, left


CHECKS = [test_demo_opens, test_cell_is_announced, test_refusal_is_said, test_run_by_line, test_run_by_cells,
          test_bad_cell_keeps_its_text, test_paste_of_twenty_rows, test_fill_down, test_undo_to_the_start_and_redo,
          test_class_of_a_cell_raised, test_condition_of_the_job, test_workbook_is_written, test_hours_are_entered,
          test_pages_of_methods, test_limit_of_the_mix_is_kept_and_undone,
          test_every_control_has_a_name_and_a_role, test_every_control_of_the_windows_beside_has_a_name_and_a_role,
          test_closes_cleanly, test_closing_takes_the_unfinished_workbook_away]
STARTS = [test_demo_opens, test_closing_takes_the_unfinished_workbook_away]


def with_window(check):
    def run():
        # Each step goes on from the one before: without a window there is nothing to wait for.
        assert check in STARTS or (w.alive() and titles), 'the window did not open or is gone'
        try:
            check()
        except Exception as error:
            words = str(error) if isinstance(error, AssertionError) else traceback.format_exc()
            raise AssertionError(f'{words}\n{w.state()}') from None
    return run


def main():
    global w
    if not os.environ.get('SEAMTALLY_TEST_DESK'):
        lacking = d.missing()
        if lacking:
            print(f'1..0 # SKIP {lacking}')
            return 0
        return d.go_there(HERE)
    with tempfile.TemporaryDirectory(prefix='seamtally-window-') as home:
        w = d.Desk(os.path.abspath(sys.argv[1]), home, JOB)
        try:
            return tap.run([(check.__name__[5:].replace('_', ' '), with_window(check)) for check in CHECKS])
        finally:
            w.kill()


if __name__ == '__main__':
    sys.exit(main())
