"""Parse tree to the language's own tree (``publisher.language.ast``): phrases and lines.

Nothing is looked up here: names are as they stand, labels only where the grammar saw one.
"""

from __future__ import annotations

from typing import cast

from publisher.language import ast
from publisher.language.ast import Expr, Joining, Name, Note, Phrase
from publisher.language.expressions import (
    Expressions,
    nodes_of,
    share_unit,
    tokens_of,
    words_of,
)
from publisher.language.parser import Node, Token


class Builder(Expressions):
    """Builds from trees whose positions are offsets into ``body``."""

    def note(self, node: Node) -> Note | None:
        last = node.parts[-1]
        if not isinstance(last, Token) or last.kind != "STRING":
            return None
        return Note(_unquoted(last.text), self.span(last))

    # ------------------------------------------------------------ phrases

    def phrase(self, node: Node) -> Phrase:
        joinings = tuple(self._joining(n) for n in nodes_of(node) if n.name in _JOININGS)
        span = self.span(node)
        if node.name == "joining_phrase":
            return Phrase(None, None, joinings, span)
        if node.name == "setting_phrase":
            name = self.name(node.parts[0])
            return Phrase(self.expr(node.parts[2]), None, joinings, span, setting=name)
        if node.name == "offset_phrase":
            amount, direction, base = node.parts[:3]
            made = Node("offset", (amount, direction, base), amount.start, base.end)
            return Phrase(self.offset(made), None, joinings, span)
        label = next((t for t in tokens_of(node) if t.kind == "NAME"), None)
        said = None if label is None else words_of(label.text)
        label_span = None if label is None else self.span(label)
        return Phrase(self.expr(node.parts[0]), said, joinings, span, label_span)

    def _joining(self, node: Node) -> Joining:
        span = self.span(node)
        word, *rest = node.parts
        assert isinstance(word, Token)
        if node.name == "prep":
            places = self.places(cast(Node, rest[0]))
            return ast.Prep(words_of(word.text), places, span, self.span(word))
        if node.name == "from_to":
            return ast.FromTo(self.place(rest[0]), self.place(rest[2]), span)
        if node.name == "called":
            return ast.Called(self.name(rest[0]), span)
        if node.name == "when":
            return ast.When(self.condition(cast(Node, rest[0])), span)
        if node.name == "by":
            return ast.By(self.expr(rest[0]), span)
        file = word.kind == "FROM_FILE"
        text = _unquoted(cast(Token, rest[0]).text)
        return ast.Quoted("from file" if file else "saying", text, span)

    def condition(self, node: Node) -> ast.Condition:
        return ast.Condition(tuple(self._comparison(n) for n in nodes_of(node)), self.span(node))

    def _comparison(self, node: Node) -> ast.Comparison:
        left, op, right = node.parts
        assert isinstance(op, Token)
        said = cast("ast.Relation", words_of(op.text))
        return ast.Comparison(self.expr(left), said, self.expr(right), self.span(node))

    # ------------------------------------------------------------ lines

    def statement(self, node: Node) -> ast.Statement:
        head = node.parts[0]
        assert isinstance(head, Token)
        phrases = tuple(self.phrase(n) for n in nodes_of(node) if n.name.endswith("_phrase"))
        listed = next((n for n in nodes_of(node) if n.name == "items"), None)
        items = () if listed is None else tuple(self._item(n) for n in nodes_of(listed))
        return ast.Statement(
            head=head.text.lower(),
            head_span=self.span(head),
            name=_called(phrases),
            phrases=phrases,
            items=items,
            note=self.note(node),
            span=self.span(node),
        )

    def _item(self, node: Node) -> ast.Item:
        span = self.span(node)
        if node.name == "plain_item":
            value = self.expr(node.parts[2]) if len(node.parts) > 1 else None
            return ast.Item(self.name(node.parts[0]), value, None, span)
        first = node.parts[0]
        if isinstance(first, Token) and first.kind == "NUMBER":
            count: Expr = self.literal(Node("literal", (first,), first.start, first.end))
        else:
            count = self.expr(node.parts[1])
        return ast.Item(self.name(node.parts[-1]), None, count, span)

    def header(self, node: Node) -> tuple[Name, tuple[Phrase, ...]]:
        return self.name(node.parts[0]), tuple(self.phrase(n) for n in nodes_of(node))

    def size(self, node: Node) -> ast.SizeDefinition:
        given = node.parts[2]
        asked = isinstance(given, Token)
        value = None if isinstance(given, Token) else self.expr(given)
        least: Expr | None = None
        most: Expr | None = None
        alternatives: list[ast.Alternative] = []
        for limit in nodes_of(node):
            if limit.name == "range":
                least, most = share_unit(tuple(self.expr(n) for n in nodes_of(limit)))
            elif limit.name == "default":
                value = self.expr(limit.parts[1])
            elif limit.name == "alternative":
                condition = self.condition(cast(Node, limit.parts[3]))
                alternatives.append(
                    ast.Alternative(self.expr(limit.parts[1]), condition, self.span(limit))
                )
        return ast.SizeDefinition(
            name=self.name(node.parts[0]),
            value=value,
            asked=asked,
            least=least,
            most=most,
            alternatives=tuple(alternatives),
            note=self.note(node),
            span=self.span(node),
        )

    def variant(self, node: Node) -> ast.Variant:
        settings = tuple(
            ast.Setting(self.name(n.parts[0]), self.expr(n.parts[2]), self.span(n))
            for n in nodes_of(node)
        )
        return ast.Variant(self.name(node.parts[1]), settings, self.note(node), self.span(node))

    def claim(self, node: Node) -> ast.FitClaim:
        verb = next(t for t in tokens_of(node) if t.kind == "VERB")
        subjects, *rest = nodes_of(node)
        things = [n for n in rest if n.name in ("object", "offset")]
        margins = [n for n in rest if n.name in ("margin", "least_margin")]
        conditions = [n for n in rest if n.name == "condition"]
        return ast.FitClaim(
            subjects=self.places(subjects),
            verb=words_of(verb.text),
            verb_span=self.span(verb),
            object=self.place(things[0]) if things else None,
            margin=self._margin(margins[0]) if margins else None,
            note=self.note(node),
            span=self.span(node),
            condition=self.condition(conditions[0]) if conditions else None,
        )

    def _margin(self, node: Node) -> ast.Margin:
        values = share_unit(tuple(self.expr(n) for n in nodes_of(node)))
        most = None if node.name == "least_margin" else values[-1]
        return ast.Margin(values[0], most, self.span(node))


_JOININGS = frozenset({"prep", "from_to", "called", "when", "by", "quoted"})


def _called(phrases: tuple[Phrase, ...]) -> Name | None:
    for phrase in phrases:
        for joining in phrase.joinings:
            if isinstance(joining, ast.Called):
                return joining.name
    return None


def _unquoted(text: str) -> str:
    return " ".join(text[1:-1].split())
