"""Makes the six workbooks of the five arriving jobs, and beside each its NAME.truth.json.

    /usr/bin/python3 tests/files/arrivals/make.py [job ...]

Needs openpyxl, XlsxWriter and `soffice` (LibreOffice). Same data, same bytes. All invented.
"""

import sys

sys.dont_write_bytecode = True

JOBS = ["gatehouse", "footbridge", "crown", "forecourt", "approach"]

if __name__ == "__main__":
    for job in sys.argv[1:] or JOBS:
        __import__(job).make()
        print(job)
