# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds every #include line under src/ against the rooms table of DEVELOPERS.md.

A room may include itself, the rooms its row names, and what those may. A library other than GLib may be included only
by the rooms whose row names it; that does not pass on. So sqlite3.h stays in store/, xlsxwriter.h in exchange/, and
gtk.h and adwaita.h in window/.

    test-rooms.py [ROOT]
"""

import pathlib
import posixpath
import re
import sys
import tempfile

sys.dont_write_bytecode = True
import tap  # noqa: E402

# Libraries that the table may name, by the headers that show their use. GLib is everyone's.
LIBRARIES = {
    'GLib': None,
    'GSL': r'gsl/',
    'GLPK': r'glpk\.h$',
    'SQLite': r'sqlite3(ext)?\.h$',
    'libxlsxwriter': r'xlsxwriter(\.h$|/)',
    'libzip': r'zip(conf)?\.h$',
    'cairo': r'cairo(-[a-z]+)?\.h$|cairo/',
    'Pango': r'pango/',
    'GTK': r'(gtk|gdk|gsk)/|gtk\.h$',
    'libadwaita': r'adwaita\.h$|adw[/-]',
}
INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*(?P<mark>[<"])(?P<path>[^>"\n]+)[>"]', re.MULTILINE)


class BadTable(Exception):
    pass


def rooms_table(text):
    """{room: (rooms named, libraries named)} of the table under the heading Rooms."""
    section = re.search(r'^## Rooms[ \t]*\n(.*?)(?=^## |\Z)', text, re.MULTILINE | re.DOTALL)
    if not section:
        raise BadTable('DEVELOPERS.md has no heading "## Rooms"')
    rows = [[cell.strip().strip('`') for cell in line.strip().strip('|').split('|')]
            for line in section[1].splitlines() if line.lstrip().startswith('|')]
    if len(rows) < 3 or [cell.lower() for cell in rows[0]] != ['room', 'what lives there', 'may include']:
        raise BadTable('the rooms table does not start with: room | what lives there | may include')
    table = {}
    for row in rows[2:]:
        if len(row) != 3:
            raise BadTable(f'a row of the rooms table has {len(row)} cells: {row}')
        room = row[0].rstrip('/')
        if not re.fullmatch(r'[a-z]+(\.c)?', room) or room in table:
            raise BadTable(f'"{room}" is no name of a room, or stands twice')
        table[room] = [name.strip().strip('`').rstrip('/') for name in row[2].split(',')]
    result = {}
    for room, names in table.items():
        for name in names:
            if name not in table and name not in LIBRARIES:
                raise BadTable(f'the row of {room} names "{name}", neither a room nor a library known to this test')
        result[room] = ({n for n in names if n in table}, {n for n in names if n in LIBRARIES})
    return result


def allowed_rooms(table):
    """{room: every room it may include}; refuses a circle."""
    def walk(room, path):
        if room in path:
            raise BadTable('the rooms go in a circle: ' + ' > '.join(path + [room]))
        found = {room}
        for name in table[room][0]:
            found |= walk(name, path + [room])
        return found
    return {room: walk(room, []) for room in table}


def without_comments(text):
    return re.sub(r'/\*.*?\*/', lambda m: '\n' * m[0].count('\n'), text, flags=re.DOTALL)


def include_fault(table, allowed, room, folder, mark, path):
    """What is wrong with one #include line, or None."""
    for library, pattern in LIBRARIES.items():
        if pattern and re.match(pattern, path):
            return None if library in table[room][1] else f'{room} may not include {library}'
    if path.startswith('.'):
        path = posixpath.normpath(posixpath.join(folder, path))
    target = path.split('/')[0]
    if '/' in path and target in table:
        return None if target in allowed[room] else f'{room} may not include {target}'
    if mark == '"' and '/' in path:
        return f'"{target}" is no room of the table'
    return None


def faults_of(src, table):
    """Every offence under src, as text; and the number of include lines read."""
    allowed = allowed_rooms(table)
    files = sorted(p for p in src.rglob('*') if p.suffix in ('.c', '.h'))
    faults, seen = [], 0
    if not files:
        faults.append(f'{src.name}/ holds no C file')
    for file in files:
        place = file.relative_to(src).as_posix()
        room = place.split('/')[0]
        if room not in table:
            faults.append(f'{place}: "{room}" is no room of the table')
            continue
        text = without_comments(file.read_text(encoding='utf-8'))
        for match in INCLUDE.finditer(text):
            seen += 1
            fault = include_fault(table, allowed, room, posixpath.dirname(place), match['mark'], match['path'])
            if fault:
                line = text.count('\n', 0, match.start()) + 1
                faults.append(f'{place}:{line}: {fault} (<{match["path"]}>)')
    if not faults and not seen:
        faults.append(f'{src.name}/ holds no #include line, so nothing was checked')
    return faults, seen


# Planted offences: (what, file, text, words that the fault must hold; None for a line that must pass).
PLANTED = [
    ('a room below', 'cost/a.c', '#include "base/num.h"\n', None),
    ('a room below, not named but reached', 'job/a.c', '#include "base/num.h"\n', None),
    ('its own room', 'cost/a.c', '#include "cost/b.h"\n#include <glib.h>\n#include "config.h"\n', None),
    ('a comment', 'base/a.c', '#include <glib.h>\n/* #include "cost/a.h" */\n', None),
    ('SQLite in store', 'store/a.c', '#include <sqlite3.h>\n', None),
    ('the workbook library in exchange', 'exchange/a.c', '#include <xlsxwriter.h>\n', None),
    ('main.c and a command', 'main.c', '#include "cli/cli.h"\n', None),
    ('a room above', 'base/a.c', '\n#include "cost/a.h"\n', 'base/a.c:2: base may not include cost'),
    ('a room above, in angles', 'duct/a.h', '# include <job/a.h>\n', 'duct may not include job'),
    ('a room beside', 'store/a.c', '#include "exchange/a.h"\n', 'store may not include exchange'),
    ('a room above, by a relative path', 'duct/a.c', '#include "../cost/a.h"\n', 'duct may not include cost'),
    ('the window', 'base/a.c', '#include "window/app.h"\n', 'base may not include window'),
    ('no room of the table', 'base/a.c', '#include "attic/a.h"\n', '"attic" is no room'),
    ('a folder that is no room', 'attic/a.c', '#include <glib.h>\n', '"attic" is no room'),
    ('a file beside main.c', 'other.c', '#include <glib.h>\n', '"other.c" is no room'),
    ('SQLite outside store', 'job/a.c', '#include <sqlite3.h>\n', 'job may not include SQLite'),
    ('SQLite above store', 'cli/a.c', '#include "sqlite3.h"\n', 'cli may not include SQLite'),
    ('the workbook library outside exchange', 'cli/a.c', '#include <xlsxwriter.h>\n', 'cli may not include libxlsx'),
    ('GTK outside window', 'job/a.c', '#include <gtk/gtk.h>\n', 'job may not include GTK'),
    ('libadwaita outside window', 'main.c', '#include <adwaita.h>\n', 'main.c may not include libadwaita'),
    ('no C file', 'base/readme.txt', 'nothing\n', 'holds no C file'),
    ('no include line', 'base/a.c', 'int base_a;\n', 'nothing was checked'),
]


def check_planted(table, name, text, expected):
    with tempfile.TemporaryDirectory() as folder:
        src = pathlib.Path(folder) / 'src'
        file = src / name
        file.parent.mkdir(parents=True)
        file.write_text(text, encoding='utf-8')
        faults, _ = faults_of(src, table)
    if expected is None:
        assert not faults, f'a line that is allowed was refused: {faults}'
    else:
        assert len(faults) == 1 and expected in faults[0], f'expected "{expected}", found {faults}'


def check_bad_tables():
    head = '## Rooms\n| room | what lives there | may include |\n|---|---|---|\n'
    for text, words in (('# Guide\n', 'no heading'),
                        ('## Rooms\nnone\n', 'does not start with'),
                        (head, 'does not start with'),
                        (head + '| a | x | GLib |\n| b | x | c |\n', 'neither a room'),
                        (head + '| a | x | GLib |\n| a | x | GLib |\n', 'stands twice'),
                        (head + '| a | x |\n', '2 cells'),
                        (head + '| a | x | b |\n| b | x | a |\n', 'in a circle')):
        try:
            allowed_rooms(rooms_table(text))
        except BadTable as error:
            assert words in str(error), f'expected "{words}", found "{error}"'
        else:
            raise AssertionError(f'this table was taken: {text}')


def check_owners(table):
    """Libraries that one room keeps to itself."""
    for library, room in (('SQLite', 'store'), ('libxlsxwriter', 'exchange'), ('GTK', 'window'),
                          ('libadwaita', 'window')):
        owners = sorted(name for name, (_, libraries) in table.items() if library in libraries)
        assert owners == [room], f'{library} is for {room} alone; the table gives it to {owners}'


def check_sources(src, table):
    faults, seen = faults_of(src, table)
    print(f'# {seen} include lines read')
    assert not faults, '\n'.join(faults)


def main():
    root = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).resolve().parent.parent)
    table = rooms_table((root / 'DEVELOPERS.md').read_text(encoding='utf-8'))
    checks = [('tables that cannot be read are refused', check_bad_tables),
              ('libraries with one owner', lambda: check_owners(table)),
              ('the include lines under src', lambda: check_sources(root / 'src', table))]
    for what, name, text, expected in PLANTED:
        verb = 'passes' if expected is None else 'is found'
        checks.append((f'planted: {what} {verb}',
                       lambda name=name, text=text, expected=expected: check_planted(table, name, text, expected)))
    return tap.run(checks)


if __name__ == '__main__':
    sys.exit(main())
