"""Pages as one tagged PDF (ISO 32000-2, 14.7 and 14.8; PDF/UA-1, ISO 14289-1)."""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Sequence

from msgspec import Struct, field

from publisher.cutfiles.pdf_file import pdf_file, pdf_text
from publisher.cutfiles.roles import ROLES, group_metadata, structural_step
from publisher.templates.canvas import Canvas, Node
from publisher.templates.faces import FILES, PARTS, embedded
from publisher.units import MM_PER_POINT, number

_ROOT, _TREE, _INFO, _META, _STRUCTURE, _PARENTS, _WHOLE, _FIRST = range(1, 9)
_PACKED = " /Filter /FlateDecode"
_META_TEMPLATE = (
    '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>'
    "<rdf:RDF "
    'xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" '
    'xmlns:dc="http://purl.org/dc/elements/1.1/" '
    'xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">'
    '<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>'
    "<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>"
    "<pdfuaid:part>1</pdfuaid:part>"
    '</rdf:Description></rdf:RDF><?xpacket end="r"?>'
)


class _File(Struct):
    """Objects by number while the file grows."""

    objects: dict[int, str] = field(default_factory=dict)
    streams: dict[int, bytes] = field(default_factory=dict)
    about: dict[int, str] = field(default_factory=dict)
    next: int = _FIRST

    def number(self) -> int:
        self.next += 1
        return self.next - 1

    def stream(self, number: int, data: bytes, about: str) -> None:
        self.streams[number] = data
        self.about[number] = about


def tagged_pdf(pages: Sequence[Canvas], title: str, language: str) -> bytes:
    """The file, the same bytes for the same pages."""
    file = _File()
    fonts = _fonts(file, pages)
    layers = _layers(file, pages)
    faces = " ".join(f"/{name} {ref} 0 R" for name, ref in fonts.items())
    properties = " ".join(f"/{name} {ref} 0 R" for name, ref in layers.items())
    pictures = " ".join(f"/{name} {ref} 0 R" for name, ref in _images(file, pages).items())
    seen = f" /XObject <<{pictures}>>" if pictures else ""
    resources = f"<</Font <<{faces}>> /Properties <<{properties}>>{seen}>>"
    numbers = []
    mark = hashlib.sha256(title.encode())
    for index, page in enumerate(pages):
        own, content = file.number(), file.number()
        data = "\n".join(page.ops).encode("ascii")
        mark.update(data)
        file.stream(content, zlib.compress(data, 9), _PACKED)
        size = f"{_pt(page.width_mm)} {_pt(page.height_mm)}"
        file.objects[own] = (
            f"<</Type /Page /Parent {_TREE} 0 R /MediaBox [0 0 {size}] /Contents {content} 0 R "
            f"/Resources {resources} /StructParents {index} /Tabs /S>>"
        )
        numbers.append(own)
    kids = " ".join(f"{n} 0 R" for n in numbers)
    file.objects[_TREE] = f"<</Type /Pages /Kids [{kids}] /Count {len(numbers)}>>"
    _structure(file, pages, numbers)
    order = " ".join(f"{ref} 0 R" for ref in layers.values())
    file.objects[_ROOT] = (
        f"<</Type /Catalog /Pages {_TREE} 0 R /Lang {pdf_text(language)} "
        f"/MarkInfo <</Marked true>> /StructTreeRoot {_STRUCTURE} 0 R /Metadata {_META} 0 R "
        # No scaling: asks the print dialogue for true size, or nothing would fit.
        "/ViewerPreferences <</DisplayDocTitle true /PrintScaling /None>> "
        f"/OCProperties <</OCGs [{order}] /D <</Name (lines) /BaseState /ON /ON [{order}] "
        f"/Order [{order}]>>>>>>"
    )
    file.objects[_INFO] = f"<</Title {pdf_text(title)} /Producer (Pattern Publisher)>>"
    meta = _META_TEMPLATE.format(title=_escaped(title), language=_escaped(language))
    file.stream(_META, meta.encode("utf-8"), " /Type /Metadata /Subtype /XML")
    return pdf_file(file.objects, _ROOT, _INFO, file.streams, mark.digest()[:16], about=file.about)


def _fonts(file: _File, pages: Sequence[Canvas]) -> dict[str, int]:
    lines = [line for page in pages for line in page.lines]
    used = {line.face for line in lines}
    found: dict[str, int] = {}
    for name in FILES:
        if name not in used:
            continue
        first = file.next
        face = embedded(name, lines, first)
        for text in face.objects:
            file.objects[file.number()] = text
        file.stream(file.number(), face.file, face.file_about)
        file.stream(file.number(), face.unicode, face.unicode_about)
        assert file.next == first + PARTS
        found[name] = first
    return found


def _images(file: _File, pages: Sequence[Canvas]) -> dict[str, int]:
    """Every picture once, however often it is shown."""
    found: dict[str, int] = {}
    for image in (image for page in pages for image in page.images.values()):
        if image.name not in found:
            found[image.name] = file.number()
            file.stream(
                found[image.name],
                image.data,
                f" /Type /XObject /Subtype /Image /Width {image.width_px} "
                f"/Height {image.height_px} /ColorSpace /{image.colours} /BitsPerComponent 8 "
                f"/Filter /{image.packing}",
            )
    return found


def _layers(file: _File, pages: Sequence[Canvas]) -> dict[str, int]:
    """The lines by role, each saying which processing step it is (ISO 19593-1:2018)."""
    used = {name for page in pages for name in page.layers}
    found = {}
    for role in ROLES:
        if role.layer in used:
            found[role.layer] = file.number()
            step = group_metadata(structural_step(role, "groups", None))
            file.objects[found[role.layer]] = f"<</Type /OCG /Name ({role.layer}){step}>>"
    return found


def _structure(file: _File, pages: Sequence[Canvas], numbers: Sequence[int]) -> None:
    """The tree of elements, and for every page the element of each piece of marked content."""
    tops = []
    parents = []
    for index, (page, own) in enumerate(zip(pages, numbers, strict=True)):
        owners: dict[int, int] = {}
        tops.append(_element(file, page.top, _WHOLE, own, owners))
        listed = " ".join(f"{owners[n]} 0 R" for n in sorted(owners))
        parents.append(f"{index} [{listed}]")
    kids = " ".join(f"{n} 0 R" for n in tops)
    file.objects[_WHOLE] = f"<</Type /StructElem /S /Document /P {_STRUCTURE} 0 R /K [{kids}]>>"
    file.objects[_PARENTS] = f"<</Nums [{' '.join(parents)}]>>"
    file.objects[_STRUCTURE] = (
        f"<</Type /StructTreeRoot /K {_WHOLE} 0 R /ParentTree {_PARENTS} 0 R "
        f"/ParentTreeNextKey {len(pages)}>>"
    )


def _element(file: _File, node: Node, parent: int, page: int, owners: dict[int, int]) -> int:
    own = file.number()
    kids = []
    for kid in node.kids:
        if isinstance(kid, int):
            owners[kid] = own
            kids.append(str(kid))
        else:
            kids.append(f"{_element(file, kid, own, page, owners)} 0 R")
    alt = f" /Alt {pdf_text(node.alt)}" if node.alt else ""
    more = f" /A {node.attributes}" if node.attributes else ""
    file.objects[own] = (
        f"<</Type /StructElem /S /{node.kind} /P {parent} 0 R /Pg {page} 0 R{alt}{more} "
        f"/K [{' '.join(kids)}]>>"
    )
    return own


def _escaped(text: str) -> str:
    """For XML; its own module would load a web client."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _pt(mm: float) -> str:
    return number(mm / MM_PER_POINT, 5)
