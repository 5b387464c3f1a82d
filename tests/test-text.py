# SPDX-License-Identifier: GPL-3.0-or-later
"""Checks of the source text: translated files are listed, licence lines stand, long files are named.

    test-text.py [ROOT]
"""

import pathlib
import re
import sys
import tempfile

sys.dont_write_bytecode = True
import tap  # noqa: E402

SPDX = '/* SPDX-License-Identifier: GPL-3.0-or-later */'
LONG = 600
TOKEN = re.compile(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'', re.DOTALL)
CALL = re.compile(r'(?<![A-Za-z0-9_])(?:_|N_|C_|NC_|Q_|ngettext|g_dngettext|g_dpgettext2?)[ \t]*\(')
DEFINITION = re.compile(r'^[ \t]*#[ \t]*define.*$', re.MULTILINE)


def has_words(text):
    """Whether C text marks a string for translation, comments and strings aside."""
    bare = TOKEN.sub(lambda m: ' ' if m[0].startswith('/') else '""', text)
    return bool(CALL.search(DEFINITION.sub('', bare)))


def sources(root, *folders, suffixes=('.c', '.h')):
    return sorted(p for folder in folders for p in (root / folder).rglob('*') if p.suffix in suffixes)


def potfiles_faults(root):
    path = root / 'po' / 'POTFILES.in'
    lines = [line.strip() for line in path.read_text(encoding='utf-8').splitlines()]
    listed = [line for line in lines if line and not line.startswith('#')]
    faults = [f'po/POTFILES.in lists {name}, which is not there' for name in listed if not (root / name).is_file()]
    faults += [f'po/POTFILES.in lists {name} twice' for name in sorted(set(listed)) if listed.count(name) > 1]
    for file in sources(root, 'src', suffixes=('.c',)):
        name = file.relative_to(root).as_posix()
        if name not in listed and has_words(file.read_text(encoding='utf-8')):
            faults.append(f'{name} has words for the user but is not in po/POTFILES.in: run po/update-potfiles')
    return faults


def licence_faults(root):
    files = sources(root, 'src', 'tests')
    if not files:
        return ['no C file under src and tests']
    return [f'{file.relative_to(root).as_posix()} does not start with {SPDX}' for file in files
            if file.read_text(encoding='utf-8').split('\n', 1)[0].rstrip('\r') != SPDX]


def long_files(root):
    counted = ((file, file.read_text(encoding='utf-8').count('\n')) for file in sources(root, 'src'))
    return [f'{file.relative_to(root).as_posix()}: {lines} lines' for file, lines in counted if lines > LONG]


def none(faults):
    assert not faults, '\n'.join(faults)


def planted(files):
    """A folder with @files, and with what every project has."""
    folder = tempfile.TemporaryDirectory()
    root = pathlib.Path(folder.name)
    for name, text in ({'po/POTFILES.in': '', 'src/a.c': SPDX + '\n', 'tests/a.c': SPDX + '\n'} | files).items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, encoding='utf-8')
    return folder, root


def check_planted(finder, files, expected):
    folder, root = planted(files)
    with folder:
        faults = finder(root)
    assert len(faults) == len(expected) and all(e in f for e, f in zip(expected, faults)), \
        f'expected {expected}, found {faults}'


def check_words():
    for text in ('x = _ ("a");', 'x = _("a");', 'f (N_ ("a"))', 'g (ngettext ("a", "b", n));', 'C_ ("x", "a")'):
        assert has_words(text), f'not seen: {text}'
    for text in ('x = my_ ("a");', '/* _ ("a") */', '// _ ("a")', 'x = "_ (";', '#define _(s) gettext (s)\n',
                 "c = '\"'; /* _ (\"a\") */"):
        assert not has_words(text), f'wrongly seen: {text}'


def main():
    root = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).resolve().parent.parent)
    # No failure: a file over the limit is a question whether it is one thing.
    for line in long_files(root):
        print(f'# over {LONG} lines: {line}')

    marked = SPDX + '\nchar *a (void) { return _ ("words"); }\n'
    return tap.run([
        ('calls that mark words', check_words),
        ('planted: an unlisted file is found',
         lambda: check_planted(potfiles_faults, {'src/b/c.c': marked}, ['src/b/c.c has words'])),
        ('planted: a listed file passes',
         lambda: check_planted(potfiles_faults, {'src/b/c.c': marked, 'po/POTFILES.in': 'src/b/c.c\n'}, [])),
        ('planted: a listed file that is not there is found',
         lambda: check_planted(potfiles_faults, {'po/POTFILES.in': 'src/x.c\n'}, ['lists src/x.c, which'])),
        ('planted: a file listed twice is found',
         lambda: check_planted(potfiles_faults, {'po/POTFILES.in': 'src/a.c\nsrc/a.c\n'}, ['src/a.c twice'])),
        ('planted: a missing licence line is found',
         lambda: check_planted(licence_faults, {'src/b.h': '#pragma once\n', 'tests/b.c': '\n' + SPDX + '\n'},
                               ['src/b.h does not', 'tests/b.c does not'])),
        ('planted: a long file is found',
         lambda: check_planted(long_files, {'src/b.c': '\n' * (LONG + 1), 'src/c.c': '\n' * LONG}, ['src/b.c: 601'])),
        ('words for the user are listed in po/POTFILES.in', lambda: none(potfiles_faults(root))),
        ('licence lines', lambda: none(licence_faults(root))),
    ])


if __name__ == '__main__':
    sys.exit(main())
