# SPDX-License-Identifier: GPL-3.0-or-later
"""Lets LibreOffice recalculate the workbook of the demo job (invented demo) and compares.

    test-recalc.py WRITE-DEMO-WORKBOOK

The yardsticks are two: every formula's value against the figure that the program wrote beside it, and the price after a
changed input cell against the price that the program itself gives for that change.
"""

import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET
import zipfile

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
import tap  # noqa: E402

MAIN = '{http://schemas.openxmlformats.org/spreadsheetml/2006/main}'
REL = '{http://schemas.openxmlformats.org/officeDocument/2006/relationships}'

# LibreOffice trusts the values of a file unless told to recalculate always.
PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse">
<value>0</value></prop></item>
</oor:items>
"""


class Book:
    """Values and formulas of an xlsx file by sheet name and cell."""

    def __init__(self, path):
        self.value, self.formula = {}, {}
        with zipfile.ZipFile(path) as file:
            shared = []
            if 'xl/sharedStrings.xml' in file.namelist():
                shared = [''.join(t.text or '' for t in si.iter(MAIN + 't'))
                          for si in ET.fromstring(file.read('xl/sharedStrings.xml')).iter(MAIN + 'si')]
            targets = {r.get('Id'): r.get('Target') for r in ET.fromstring(file.read('xl/_rels/workbook.xml.rels'))}
            root = ET.fromstring(file.read('xl/workbook.xml'))
            self.names = {n.get('name'): n.text for n in root.iter(MAIN + 'definedName')}
            self.part = {}
            for sheet in root.iter(MAIN + 'sheet'):
                part = 'xl/' + targets[sheet.get(REL + 'id')].removeprefix('/xl/')
                self.part[sheet.get('name')] = part
                for cell in ET.fromstring(file.read(part)).iter(MAIN + 'c'):
                    self.read_cell(sheet.get('name'), cell, shared)

    def read_cell(self, sheet, cell, shared):
        key = (sheet, cell.get('r'))
        formula, value = cell.find(MAIN + 'f'), cell.find(MAIN + 'v')
        if formula is not None:
            self.formula[key] = formula.text
        if cell.get('t') == 'inlineStr':
            self.value[key] = unescape(''.join(t.text or '' for t in cell.iter(MAIN + 't')))
        elif value is None:
            return
        elif cell.get('t') == 's':
            self.value[key] = unescape(shared[int(value.text)])
        elif cell.get('t') in ('str', 'e'):
            self.value[key] = value.text or ''
        else:
            self.value[key] = float(value.text)

    def named(self, name):
        """(sheet, cell) of a defined name."""
        sheet, cell = self.names[name].replace('$', '').rsplit('!', 1)
        return sheet.strip("'"), cell

    def find(self, sheet, column, text):
        """Row number of the cell of a column that holds a text."""
        rows = [int(re.sub('[A-Z]', '', ref)) for (s, ref), value in self.value.items()
                if s == sheet and re.fullmatch(column + r'\d+', ref) and value == text]
        assert len(rows) == 1, f'{text} stands {len(rows)} times in column {column} of {sheet}'
        return rows[0]


def unescape(text):
    return re.sub(r'_x([0-9A-Fa-f]{4})_', lambda m: chr(int(m[1], 16)), text)


class Bench:
    def __init__(self, writer, folder):
        self.writer, self.folder, self.count = writer, pathlib.Path(folder), 0
        profile = self.folder / 'profile' / 'user'
        profile.mkdir(parents=True)
        (profile / 'registrymodifications.xcu').write_text(PROFILE)

    def write(self, *options):
        """Path of a new workbook, its price and its cost as the program computed them, in minor units."""
        self.count += 1
        path = self.folder / f'bid-{self.count}.xlsx'
        out = subprocess.run([self.writer, path, *options], check=True, capture_output=True, text=True).stdout
        return path, *map(int, out.split())

    def recalculate(self, path):
        out = self.folder / 'out'
        result = out / path.name
        result.unlink(missing_ok=True)
        run = subprocess.run(['soffice', f'-env:UserInstallation=file://{self.folder}/profile', '--headless', '--convert-to', 'xlsx',
                              '--outdir', out, path], capture_output=True, text=True, timeout=120)
        assert result.exists(), f'LibreOffice wrote nothing: {run.stdout}{run.stderr}'
        return Book(result)

    def edit(self, path, part, change):
        """A copy of a workbook with one part changed."""
        self.count += 1
        copy = self.folder / f'edited-{self.count}.xlsx'
        with zipfile.ZipFile(path) as old, zipfile.ZipFile(copy, 'w', zipfile.ZIP_DEFLATED) as new:
            for name in old.namelist():
                data = old.read(name)
                new.writestr(name, change(data.decode()).encode() if name == part else data)
        return copy

    def with_value(self, path, sheet, cell, value):
        """A copy in which a cell's written value is another; its formula, if it has one, stays."""
        book = Book(path)

        def change(xml):
            pattern = rf'(<c r="{cell}"[^>]*>(?:<f>[^<]*</f>)?<v>)[^<]*(</v>)'
            changed, n = re.subn(pattern, rf'\g<1>{value}\g<2>', xml)
            assert n == 1, f'{sheet}!{cell} was found {n} times'
            return changed
        return self.edit(path, book.part[sheet], change)


def differences(written, again):
    """Formula cells whose recalculated value is not the one that was written."""
    wrong = []
    for key, formula in written.formula.items():
        was, now = written.value.get(key), again.value.get(key)
        if isinstance(was, float) and isinstance(now, float):
            same = abs(was - now) <= 1e-6 + 1e-12 * abs(was)
        else:
            same = was == now
        if not same:
            wrong.append(f'{key[0]}!{key[1]}: written {was!r}, recalculated {now!r}: ={formula}')
    return wrong


def check_formulas(bench, *options):
    path, price, cost = bench.write(*options)
    written, again = Book(path), bench.recalculate(path)
    decimals = int(options[options.index('--decimals') + 1]) if '--decimals' in options else 2
    assert len(written.formula) > 100, f'only {len(written.formula)} formulas'
    wrong = differences(written, again)
    assert not wrong, '\n'.join(wrong)
    for name, minor in (('price', price), ('cost', cost)):
        value = again.value[again.named(name)]
        assert round(value * 10 ** decimals) == minor, f'{name}: {value}, the program has {minor}'


def check_planted(bench):
    path, price, _ = bench.write()
    sheet, cell = Book(path).named('price')
    copy = bench.with_value(path, sheet, cell, 999)
    planted = Book(copy)
    assert planted.value[sheet, cell] == 999
    again = bench.recalculate(copy)
    assert round(again.value[sheet, cell] * 100) == price, f'still {again.value[sheet, cell]}'
    assert differences(planted, again), 'a wrong value was not seen'


def check_change(bench, change, place, value):
    """@place: gives (sheet, cell) of the input cell; @value: what goes into it."""
    path, before, _ = bench.write()
    _, wanted, cost = bench.write('--set', change)
    assert wanted != before, f'{change} changes nothing'
    sheet, cell = place(Book(path))
    book = bench.recalculate(bench.with_value(path, sheet, cell, value))
    price = book.value[book.named('price')]
    assert round(price * 100) == wanted, f'{change}: the workbook gives {price}, the program {wanted / 100}'
    assert round(book.value[book.named('cost')] * 100) == cost
    # The face of the bid follows and says by how much.
    row = book.find('Price', 'A', 'Changed in this workbook by')
    assert round(book.value['Price', f'B{row}'] * 100) == wanted - before
    assert f'{wanted / 100:,.2f}' in book.value['Price', 'A2'], book.value['Price', 'A2']
    # The printed lines still add up to the lines of the build-up.
    for sheet, column, line in (('Materials', 'H', 'material'), ('Minutes', 'J', 'shop'), ('Minutes', 'J', 'field')):
        label = {'material': 'Material, total', 'shop': 'Shop, total', 'field': 'Field, total'}[line]
        head = {'material': 'Material', 'shop': 'Shop', 'field': 'Field'}[line]
        first, last = book.find(sheet, 'A', head) + 1, book.find(sheet, 'A', label) - 1
        total = sum(round(book.value[sheet, f'{column}{r}'] * 100) for r in range(first, last + 1))
        assert total == round(book.value[book.named(line)] * 100), f'{sheet} {line}: printed lines give {total}'


def price_of(item):
    return lambda book: ('Materials', f'D{book.find("Materials", "A", item)}')


def check_hostile(bench):
    words = ['=1+1', '+2', '-3', '@SUM(A1)', '_x0041_', '<&">\'']
    path, *_ = bench.write('--hostile')
    written, again = Book(path), bench.recalculate(path)
    assert not differences(written, again)
    for word in words:
        for book in (written, again):
            cells = [key for key, value in book.value.items() if value == word and key[0] == 'Runs']
            assert len(cells) == 2, f'{word}: {cells}'
            assert not any(key in book.formula for key in cells), f'{word} became a formula'


# Conditions on runs and areas, added; learning, overtime, joints on the floor and remade, pieces raised together.
LABOUR = ['run.1.condition=weather', 'run.30.condition=high work; congested ceiling', 'job..condition=occupied building',
          'setting.conditions.join=sum', 'setting.learning.model=unit', 'setting.overtime.hours=50',
          'area.Level 1.share_joints_remade=0.033333', 'area.Level 2.share_joints_on_floor=0.4',
          'area.Level 1.pieces_raised_together=3', 'area.Level 2.fit_pieces=1']


def main():
    if not shutil.which('soffice'):
        print('1..0 # SKIP soffice is not here')
        return 0
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(sys.argv[1], folder)
        return tap.run([
            ('every formula gives the value written beside it', lambda: check_formulas(bench)),
            ('the same with a margin', lambda: check_formulas(bench, '--margin')),
            ('the same without decimals', lambda: check_formulas(bench, '--decimals', '0', '--margin')),
            ('the same with four decimals and typical floors', lambda: check_formulas(bench, '--decimals', '4', '--times', '3')),
            ('the same with every part of the labour model', lambda: check_formulas(
                bench, '--times', '2', *(part for change in LABOUR for part in ('--set', change)))),
            ('a planted wrong value is corrected', lambda: check_planted(bench)),
            ('a changed item price', lambda: check_change(bench, 'item.slip-on flange.price=1.2345',
                                                          price_of('slip-on flange'), '1.2345')),
            ('a changed rate of the field', lambda: check_change(bench, 'rate.field=97.53',
                                                                lambda b: b.named('rate_field'), '97.53')),
            ('a changed rate of the shop', lambda: check_change(bench, 'rate.shop=63.8676',
                                                               lambda b: b.named('rate_shop'), '63.8676')),
            ('a changed percentage', lambda: check_change(bench, 'buildup.overhead.rate=13.75',
                                                         lambda b: b.named('overhead_rate'), '0.1375')),
            ('words that look like formulas stay words', lambda: check_hostile(bench)),
        ])


if __name__ == '__main__':
    sys.exit(main())
