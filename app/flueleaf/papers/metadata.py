"""The metadata inside the PDF: PDF/A-3B, with no time but the paper's own."""

from __future__ import annotations

import datetime as dt
from xml.sax.saxutils import escape

PRODUCER = "Flueleaf"


def xmp(*, title: str, author: str, issued_at: dt.datetime) -> str:
    """Return the XMP packet's content (ISO 16684-1, ISO 19005-3)."""
    at = issued_at.isoformat(timespec="seconds")
    return f"""<x:xmpmeta xmlns:x="adobe:ns:meta/">
 <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
  <rdf:Description rdf:about=""
    xmlns:dc="http://purl.org/dc/elements/1.1/"
    xmlns:xmp="http://ns.adobe.com/xap/1.0/"
    xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
    xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">
   <pdfaid:part>3</pdfaid:part>
   <pdfaid:conformance>B</pdfaid:conformance>
   <dc:format>application/pdf</dc:format>
   <dc:title><rdf:Alt><rdf:li xml:lang="x-default">{_legal(title)}</rdf:li></rdf:Alt></dc:title>
   <dc:creator><rdf:Seq><rdf:li>{_legal(author)}</rdf:li></rdf:Seq></dc:creator>
   <dc:language><rdf:Bag><rdf:li>en-GB</rdf:li></rdf:Bag></dc:language>
   <xmp:CreateDate>{at}</xmp:CreateDate>
   <xmp:ModifyDate>{at}</xmp:ModifyDate>
   <xmp:MetadataDate>{at}</xmp:MetadataDate>
   <xmp:CreatorTool>{PRODUCER}</xmp:CreatorTool>
   <pdf:Producer>{PRODUCER}</pdf:Producer>
  </rdf:Description>
 </rdf:RDF>
</x:xmpmeta>"""


def _legal(text: str) -> str:
    """Return a text as XML may hold it: escaped, without control characters and lone surrogates."""
    kept = "".join(char for char in text if char.isprintable() and ord(char) not in (0xFFFE, 0xFFFF))
    return escape(kept)
