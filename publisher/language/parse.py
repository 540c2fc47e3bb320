"""A document to a program."""

from __future__ import annotations

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Place
from publisher.language import ast
from publisher.language.calls import check_call, with_form
from publisher.language.check import check, find_spec
from publisher.language.fences import Fences, read_fences
from publisher.language.listing import Lister
from publisher.language.names import Names
from publisher.language.phrases import Splitter, leading_name, plain_word
from publisher.language.program import Outside, Program
from publisher.language.resolve import Resolver, pieces_named
from publisher.language.statements import FITS, STATEMENTS, StatementSpec, Where
from publisher.language.variants import clashes
from publisher.source import Document


def parse(document: Document, declared: Outside | None = None) -> tuple[Program, list[Diagnostic]]:
    """The program in a document, and every fault found in it.

    ``declared`` holds the names that come from outside the file (stocks, objects). Without it
    names that the file does not give are passed over; with it they are reported.
    """
    program, _, findings = parse_with_parts(document, declared)
    return program, findings


def parse_with_parts(
    document: Document, declared: Outside | None = None
) -> tuple[Program, dict[str, dict[str, str]], list[Diagnostic]]:
    """The same with what each named part is ("panel", "tab"), by piece and part."""
    found = read_fences(document)
    parser = _Parser(document, found, declared)
    program = parser.program()
    parts: dict[str, dict[str, str]] = {}
    for (piece, part), kind in parser.names.kinds.items():
        parts.setdefault(piece, {})[part] = kind
    return program, parts, _once([*found.findings, *parser.names.findings, *parser.findings])


def _once(findings: list[Diagnostic]) -> list[Diagnostic]:
    """In reading order, without repeats of the same words at the same place."""
    seen: dict[tuple[object, ...], Diagnostic] = {}
    for finding in findings:
        span = finding.places[0].span if finding.places else None
        seen.setdefault((finding.code, finding.message, span), finding)
    return sorted(seen.values(), key=lambda f: f.places[0].span.start if f.places else -1)


class _Parser:
    def __init__(self, document: Document, found: Fences, declared: Outside | None) -> None:
        self.document = document
        self.found = found
        self.declared = declared
        self.names = Names(declared or Outside())
        self.findings: list[Diagnostic] = []

    def program(self) -> Program:
        found, names = self.found, self.names
        names.lost = found.lost
        sizes = names.add_sizes(found.sizes)
        pieces = names.add_pieces([replace(p, statements=self._named(p)) for p in found.pieces])
        names.add_made(found.steps)
        outside = self._resolver(None)
        self.findings.extend(clashes(found.variants))
        return Program(
            document=self.document,
            sizes=tuple(self._size(s, outside) for s in sizes),
            variants=tuple(self._variant(v, outside) for v in found.variants),
            pieces=tuple(self._piece(p) for p in pieces),
            steps=tuple(self._step(s) for s in found.steps),
            claims=tuple(self._claim(c) for c in found.claims),
            spoken={span: outside.expr(e) for span, e in found.spoken.items()},
            lost=frozenset(found.lost),
            forms=names.outside.forms,
            beside=names.outside.beside,
        )

    def _resolver(self, piece: str | None) -> Resolver:
        formed = self.document.form is not None or piece in self.names.formed
        return Resolver(self.names, piece, self.declared is not None, self.findings, formed=formed)

    def _outside_resolver(self) -> Resolver:
        """For steps and claims: they may speak of parts that a form gives."""
        resolver = self._resolver(None)
        resolver.formed = resolver.formed or bool(self.names.formed)
        return resolver

    # ------------------------------------------------------------ fences

    def _size(self, size: ast.SizeDefinition, resolver: Resolver) -> ast.SizeDefinition:
        return replace(
            size,
            value=None if size.value is None else resolver.expr(size.value),
            least=None if size.least is None else resolver.expr(size.least),
            most=None if size.most is None else resolver.expr(size.most),
            alternatives=tuple(
                replace(a, value=resolver.expr(a.value), condition=resolver.condition(a.condition))
                for a in size.alternatives
            ),
        )

    def _variant(self, variant: ast.Variant, resolver: Resolver) -> ast.Variant:
        settings: list[ast.Setting] = []
        for setting in variant.settings:
            name = setting.name
            if name.text not in self.names.sizes and name.text not in self.names.lost:
                segment = ast.Segment("name", name.text, name.span)
                resolver.strangers.name(segment)
            settings.append(replace(setting, value=resolver.expr(setting.value)))
        return replace(variant, settings=tuple(settings))

    def _piece(self, piece: ast.PieceDesign) -> ast.PieceDesign:
        resolver = self._resolver(piece.name.text)
        copies = None if piece.copies is None else resolver.expr(piece.copies)
        statements = tuple(self._statement(s, "piece", resolver) for s in piece.statements)
        if piece.stock is not None and self.declared is not None:
            self._stock(piece.stock, resolver)
        return replace(piece, copies=copies, statements=statements)

    def _stock(self, stock: ast.Name, resolver: Resolver) -> None:
        outside = self.names.outside
        if stock.text not in outside.stocks:
            resolver.strangers.among(stock, outside.stocks, "stock")

    def _step(self, step: ast.StepDesign) -> ast.StepDesign:
        resolver = self._outside_resolver()
        statements = tuple(self._statement(s, "step", resolver) for s in step.statements)
        return replace(step, statements=statements)

    def _claim(self, claim: ast.FitClaim) -> ast.FitClaim:
        spoken = [*claim.subjects, *([claim.object] if claim.object is not None else [])]
        resolver = self._outside_resolver()
        resolver.context = pieces_named(spoken, self.names)
        margin = claim.margin
        self._check_claim(claim)
        if claim.condition is not None:
            claim = replace(claim, condition=resolver.condition(claim.condition))
        if FITS[claim.verb].takes == "name":
            return replace(claim, subjects=resolver.places(claim.subjects))
        return replace(
            claim,
            subjects=resolver.places(claim.subjects),
            object=None if claim.object is None else resolver.place(claim.object),
            margin=None
            if margin is None
            else replace(
                margin,
                least=resolver.expr(margin.least),
                most=None if margin.most is None else resolver.expr(margin.most),
            ),
        )

    def _check_claim(self, claim: ast.FitClaim) -> None:
        spec = FITS[claim.verb]
        message = ""
        code, span = "syntax", claim.verb_span
        if not spec.built:
            code = "not-yet"
            message = f"‘{claim.verb}’ is part of the language, but nothing proves it yet"
        elif claim.object is None:
            message = f"{claim.verb} what? Write for example ‘{spec.example}’"
        elif claim.margin is not None and not spec.margin:
            message = f"‘{claim.verb}’ takes no ‘with … to spare’"
            span = claim.margin.span
        if message:
            self.findings.append(Diagnostic(code, "error", message, (Place(span),)))

    # ------------------------------------------------------------ statements

    def _statement(
        self, statement: ast.Statement, where: Where, resolver: Resolver
    ) -> ast.Statement:
        told = len(self.findings)
        spec, finding = find_spec(statement, where)
        if finding is not None:
            self.findings.append(finding)
        if spec is None:
            self._as_meant(where, statement, told)
            if statement.name is not None:
                self.names.lost.add(statement.name.text)
            return statement
        split = self._split(statement, spec, resolver.piece)
        if finding is not None:
            return split
        self.findings.extend(check(split, spec))
        if statement.head == "form" and self.declared is not None:
            self.findings.extend(check_call(split, self.names.outside.forms))
        if where == "step":
            # A step tries the pieces first that it has named so far.
            resolver.context |= pieces_named(_spoken_places(split), self.names)
        read = replace(
            split,
            phrases=tuple(self._phrase(p, resolver, spec) for p in split.phrases),
            items=tuple(self._item(i, resolver) for i in split.items),
        )
        if len(self.findings) > told:
            self._as_meant(where, statement, told)
        return read

    def _as_meant(self, where: Where, statement: ast.Statement, told: int) -> None:
        from publisher.language.turns import as_meant  # only a line that fails waits for it

        as_meant(where, self.document.source, statement.span, self.findings, told)

    def _split(
        self, statement: ast.Statement, spec: StatementSpec, piece: str | None
    ) -> ast.Statement:
        source = self.document.source
        splitter = Splitter(spec, self.names, piece, source)
        lister = Lister(self.names, piece, source, self.findings)
        split = lister.joined([splitter.split(p) for p in statement.phrases])
        return replace(statement, phrases=split)

    def _phrase(self, phrase: ast.Phrase, resolver: Resolver, spec: StatementSpec) -> ast.Phrase:
        value = phrase.value
        if value is not None and not self._already_told(phrase, spec):
            value = resolver.place(value)
        joinings = tuple(self._joining(j, resolver) for j in phrase.joinings)
        return replace(phrase, value=value, joinings=joinings)

    def _already_told(self, phrase: ast.Phrase, spec: StatementSpec) -> bool:
        """A stray word is answered as a word, not also as a name that nobody gave; a word whose
        comma is missing likewise."""
        lead = leading_name(phrase.value)
        if lead is not None and any(
            f.code == "syntax" and f.places and f.places[0].span.end == lead.span.end
            for f in self.findings[-8:]
        ):
            return True
        if phrase.label is not None or phrase.value is None or plain_word(phrase.value) is None:
            return False
        span = phrase.value.span
        return any(f.places[0].span == span for f in self.findings[-8:] if f.places)

    def _joining(self, joining: ast.Joining, resolver: Resolver) -> ast.Joining:
        match joining:
            case ast.Prep():
                return replace(joining, places=resolver.places(joining.places))
            case ast.FromTo():
                start, end = resolver.place(joining.start), resolver.place(joining.end)
                return replace(joining, start=start, end=end)
            case ast.By():
                return replace(joining, value=resolver.expr(joining.value))
            case ast.When():
                return replace(joining, condition=resolver.condition(joining.condition))
            case _:
                return joining

    def _has_size(self, name: ast.Name) -> bool:
        return name.text in self.names.sizes or name.text in self.names.lost

    def _item(self, item: ast.Item, resolver: Resolver) -> ast.Item:
        if item.count is not None:
            # In "4 of side" the panels measure what the size called side says.
            if resolver.strict and not self._has_size(item.name):
                resolver.strangers.among(item.name, self.names.sizes, "size")
            return replace(item, count=resolver.expr(item.count))
        if item.value is not None:
            return replace(item, value=resolver.expr(item.value))
        if resolver.strict and not self._has_size(item.name):
            resolver.strangers.among(item.name, self.names.sizes, "size")
        return item

    def _named(self, piece: ast.PieceDesign) -> tuple[ast.Statement, ...]:
        """Statements whose first phrase gives a name have it in ``name``."""
        return tuple(self._with_name(s) for s in piece.statements)

    def _with_name(self, statement: ast.Statement) -> ast.Statement:
        spec = STATEMENTS["piece"].get(statement.head)
        if statement.head == "form":
            return with_form(statement)
        if spec is None or not spec.names or not statement.phrases:
            return statement
        first = statement.phrases[0]
        name = None if first.value is None else plain_word(first.value)
        if first.value is None or name is None or first.label or first.joinings:
            lead = leading_name(first.value)
            if lead is not None and statement.name is None:
                self.names.lost.add(lead.name.rstrip("0123456789 "))
            return statement
        given = ast.Name(name, first.value.span)
        return replace(statement, name=given, phrases=statement.phrases[1:])


def _spoken_places(statement: ast.Statement) -> list[ast.Place]:
    """Everything that a line speaks of."""
    found: list[ast.Place] = [p.value for p in statement.phrases if p.value is not None]
    for prep in statement.joinings():
        if isinstance(prep, ast.Prep):
            found.extend(prep.places)
    return found
