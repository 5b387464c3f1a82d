# SPDX-License-Identifier: GPL-3.0-or-later
"""The few lines of the Test Anything Protocol that tests written in Python need."""

import traceback


def run(checks):
    """Runs (name, function) pairs as subtests; a function fails by raising. Returns the exit status."""
    print(f'1..{len(checks)}')
    failed = 0
    for number, (name, function) in enumerate(checks, 1):
        try:
            function()
        except Exception as error:  # a broken check must show as one failure, not stop the others
            failed += 1
            print(f'not ok {number} {name}')
            if not isinstance(error, AssertionError):
                error = traceback.format_exc()
            for line in str(error).splitlines():
                print(f'# {line}')
        else:
            print(f'ok {number} {name}')
    return 1 if failed else 0
