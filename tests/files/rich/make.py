"""Makes three richly furnished workbooks, each with a small lighting schedule and all that an exporter could damage.

    /usr/bin/python3 tests/files/rich/make.py

Needs openpyxl and XlsxWriter. Same data, same bytes. All invented. What is in which: README.md.
"""

import pathlib
import sys

sys.dont_write_bytecode = True
HERE = pathlib.Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent / "arrivals")]

if __name__ == "__main__":
    for job in ("viaduct", "terminal", "quay"):
        __import__(job).make(HERE)
        print(job)
