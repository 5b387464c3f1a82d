# SPDX-License-Identifier: GPL-3.0-or-later
"""Checks that .ci/count.py counts the tests in a log as they ended. The logs are made up here."""

import json
import pathlib
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
import tap  # noqa: E402

COUNT = pathlib.Path(__file__).resolve().parent.parent / '.ci' / 'count.py'


def record(result, stdout=None):
    return {'name': 'a', 'result': result, 'stdout': stdout}


TAP_MIXED = 'TAP version 13\n1..4\nok 1 /a\nok 2 /b # SKIP no file\nnot ok 3 /c # TODO later\nok 4 /d\n'
TAP_NESTED = ('TAP version 14\n1..2\n# Subtest: x\n    ok 1 a\n    not ok 2 b\n    1..2\nnot ok 1 x\n'
              '# Subtest: y\n    ok 1 a\n    1..1\nok 2 y\n')
# (what, records of one log, or None for no log; arguments; last line; exit status)
CASES = [
    ('plain tests', [record('OK'), record('OK', 'ok, done\n')], [], '2 passed, 0 failed', 0),
    ('a plain failure', [record('OK'), record('FAIL')], [], '1 passed, 1 failed', 1),
    ('a plain skip', [record('OK'), record('SKIP')], [], '1 passed, 0 failed, 1 skipped', 0),
    ('subtests', [record('OK', TAP_MIXED)], [], '2 passed, 0 failed, 2 skipped', 0),
    ('a failed subtest', [record('FAIL', '1..2\nok 1 a\nnot ok 2 b\n')], [], '1 passed, 1 failed', 1),
    ('subtests of subtests', [record('FAIL', TAP_NESTED)], [], '2 passed, 1 failed', 1),
    ('a crash', [record('ERROR', '1..3\nok 1 a\nBail out! b\n')], [], '1 passed, 1 failed', 1),
    ('out of time', [record('OK'), record('TIMEOUT', '1..3\nok 1 a\n')], [], '2 passed, 1 failed', 1),
    ('a leak found after the last subtest', [record('ERROR', '1..1\nok 1 a\n')], [], '1 passed, 1 failed', 1),
    ('all skipped', [record('SKIP', '1..0 # SKIP no display\n')], [], '0 passed, 1 failed, 1 skipped', 1),
    ('no test', [], [], '0 passed, 1 failed', 1),
    ('no log', None, [], '0 passed, 1 failed', 1),
    ('a failed build', [record('OK')], ['--check-status', '1'], '1 passed, 1 failed', 1),
]


def check(records, arguments, last, status):
    with tempfile.TemporaryDirectory() as folder:
        if records is not None:
            log = pathlib.Path(folder) / 'meson-logs' / 'testlog.json'
            log.parent.mkdir()
            log.write_text(''.join(json.dumps(r) + '\n' for r in records), encoding='utf-8')
        done = subprocess.run([sys.executable, str(COUNT), *arguments, folder], capture_output=True, text=True,
                              check=False)
    assert done.stdout.splitlines()[-1:] == [last], f'expected "{last}", found: {done.stdout}{done.stderr}'
    assert done.returncode == status, f'exit status {done.returncode}, not {status}'


if __name__ == '__main__':
    sys.exit(tap.run([(what, lambda rest=rest: check(*rest)) for what, *rest in CASES]))
