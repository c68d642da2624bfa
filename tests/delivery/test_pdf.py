"""Printing to PDF with LibreOffice, judged by the file it writes."""

import os
import stat
import subprocess
from pathlib import Path

import pytest
import xlsxwriter

from workbook_tools.delivery import pdf
from workbook_tools.errors import Unusable


def workbook(path: Path, pages: int = 2) -> Path:
    with xlsxwriter.Workbook(path) as made:
        for page in range(pages):
            made.add_worksheet(f"Page {page}").write_string(0, 0, f"switch off at SD-{page}")
    return path


def pretended(folder: Path, script: str) -> Path:
    program = folder / "soffice"
    program.write_text(f"#!/bin/sh\n{script}\n")
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    return program


@pytest.mark.office
def test_the_workbook_is_printed_whole(office, tmp_path):
    assert pdf.find_office() == Path(office.program("soffice"))
    made = pdf.print_pdf(workbook(tmp_path / "a schedule.xlsx"))
    assert made == tmp_path / "a schedule.pdf"
    text = subprocess.run(
        [office.program("pdftotext"), made, "-"], capture_output=True, text=True, check=True
    ).stdout
    assert "switch off at SD-0" in text
    assert "switch off at SD-1" in text
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a schedule.pdf", "a schedule.xlsx"]


@pytest.mark.office
def test_what_is_no_workbook_is_said_although_the_exit_status_is_0(office, tmp_path):
    office.program("soffice")
    path = tmp_path / "schedule.xlsx"
    path.write_bytes(b"PK\x03\x04 no workbook")
    with pytest.raises(Unusable, match="could not print schedule"):
        pdf.print_pdf(path)


def test_without_libreoffice_there_is_none(tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(pdf, "_PLACES", ())
    assert pdf.find_office() is None
    assert pdf.print_pdf(workbook(tmp_path / "schedule.xlsx")) is None


@pytest.mark.skipif(os.name != "posix", reason="the pretended program is a shell script")
def test_a_program_that_ends_well_and_writes_nothing_is_not_believed(tmp_path, monkeypatch):
    monkeypatch.setattr(
        pdf, "find_office", lambda: pretended(tmp_path, "echo source file could not be loaded >&2; exit 0")
    )
    with pytest.raises(Unusable, match="source file could not be loaded"):
        pdf.print_pdf(workbook(tmp_path / "schedule.xlsx"))


@pytest.mark.skipif(os.name != "posix", reason="the pretended program is a shell script")
def test_a_program_that_hangs_is_ended_with_its_children(tmp_path, monkeypatch):
    running = tmp_path / "running"
    script = f'(sleep 5; touch "{running}") & wait'
    monkeypatch.setattr(pdf, "find_office", lambda: pretended(tmp_path, script))
    monkeypatch.setattr(pdf, "LONGEST_SECONDS", 0.3)
    with pytest.raises(Unusable, match="did not print"):
        pdf.print_pdf(workbook(tmp_path / "schedule.xlsx"))
    groups = subprocess.run(["ps", "-eo", "args"], capture_output=True, text=True, check=True).stdout
    assert str(running) not in groups


@pytest.mark.skipif(os.name != "posix", reason="the pretended program is a shell script")
def test_a_program_that_cannot_be_started_is_said(tmp_path, monkeypatch):
    monkeypatch.setattr(pdf, "find_office", lambda: tmp_path / "gone")
    with pytest.raises(Unusable, match="no such file"):
        pdf.print_pdf(workbook(tmp_path / "schedule.xlsx"))
