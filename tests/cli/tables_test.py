"""Tables of spans as other programs write them, read by the command line: Python's csv in its dialects, and the shape a spreadsheet
saves where the comma is the decimal sign (byte order mark, semicolons, CRLF). Run: tables_test.py JIGTIME
"""
import csv
import io
import sys
import unittest

import contract_test
from contract_test import Case, scene, write_wav

DAY = "2026-03-14"
COLUMNS = ["Note", "TO", "from", "Task", "people", "Fasteners", "Break"]
ROWS = [
    ["two \"quoted\" words,\nand a second line; with a semicolon", "0:00:04.5", "0:00:01.250", "Rivet, \"skin\"", "Mara; Joost",
     "MS20426AD3-3.5=58-2:squeezed", "no"],
    ["=1+1 stays text", "0:00:05", "0:00:04.5", "", "Mara", "", "yes"],
    ["Tee; Käse", "0:00:09", "0:00:05", "Deburr", "Jörg", "", ""],
]


class Tables(Case):
    def setUp(self):
        super().setUp()
        self.new()
        write_wav(self.desk / "bench.wav", scene(12, 5))
        self.ask("import", self.journal, "--session", DAY, "--camera", f"bench={self.desk / 'bench.wav'}")
        self.ask("align", self.journal)

    def read(self, content, expect=0):
        table = self.desk / "tags.csv"
        table.write_bytes(content)
        return self.run_it("tags", self.journal, "--session", DAY, "--read", table, expect=expect)

    def spans(self):
        return self.ask("show", self.journal, "--session", DAY)["spans"]

    def check_all_there(self):
        first, pause, last = self.spans()
        self.assertEqual((first["begin_s"], first["end_s"]), (1.25, 4.5))
        self.assertEqual(first["task"], "Rivet, \"skin\"")
        self.assertEqual(first["note"], ROWS[0][0])
        self.assertEqual(first["people"], ["Mara", "Joost"])
        self.assertEqual(pause["note"], "=1+1 stays text")
        self.assertEqual(last["people"], ["Jörg"])
        (row,) = self.ask("rivets", self.journal)["rows"]
        self.assertEqual((row["callout"], row["set"], row["drilled"]), ("MS20426AD3-3.5", 58, 2))

    def test_what_pythons_csv_writes_is_read_in_every_dialect(self):
        for dialect in ("excel", "excel-tab", "unix"):
            with self.subTest(dialect):
                super().setUp()
                self.setUp()
                text = io.StringIO(newline="")
                writer = csv.writer(text, dialect)
                writer.writerow(COLUMNS)
                writer.writerows(ROWS)
                self.read(text.getvalue().encode("utf-8"))
                self.check_all_there()

    def test_a_table_with_semicolons_decimal_commas_and_a_byte_order_mark_is_read(self):
        text = io.StringIO(newline="")
        writer = csv.writer(text, delimiter=";", lineterminator="\r\n")
        writer.writerow(COLUMNS + ["", ""])
        for row in ROWS:
            writer.writerow([cell.replace("4.5", "4,5").replace("1.250", "1,250").replace("3.5=", "3,5=") for cell in row] + ["", ""])
        writer.writerow([""] * 9)
        self.read(text.getvalue().encode("utf-8-sig"))
        self.check_all_there()

    def test_every_bad_row_is_told_by_line_and_column_and_none_is_taken(self):
        done = self.read(b"from;to;task;fasteners\r\n0:00:01;0:00:02;good;\r\n0:00:03;soon;b;\r\n\"0:00:04\";0:00:05;\"c\nd\";ZZ=1\r\n"
                         b"0:00:06;0:00:05;e;\r\n0:00:06;0:00:07;f;;more\r\n", expect=3)
        for fault in ("line 3, column to: \"soon\"", "line 4, column fasteners", "line 6, column to", "line 7, column 5", "Nothing was tagged"):
            self.assertIn(fault, done.stderr)
        self.assertNotIn("line 2", done.stderr)
        self.assertEqual(self.spans(), [])
        self.assertEqual(self.ask("hours", self.journal)["rows"], [])

    def test_a_table_in_which_every_row_is_bad_has_every_row_told(self):
        done = self.read(b"from,to,task\n" + b"soon,0:00:02,A\n" * 300, expect=3)
        self.assertEqual(done.stderr.count("column from"), 300)
        self.assertIn("line 301, column from", done.stderr)

    def test_a_table_in_another_encoding_is_refused_with_the_line_and_what_to_do(self):
        done = self.read("from,to,task\n0:00:01,0:00:02,Käse\n".encode("latin-1"), expect=3)
        self.assertIn("line 2", done.stderr)
        self.assertIn("UTF-8", done.stderr)


if __name__ == "__main__":
    contract_test.JIGTIME = sys.argv.pop(1)
    unittest.main(verbosity=2)
