"""The grammar: LALR(1), without conflicts (a test holds that).

Every line of a fence is parsed by itself, so that one bad line hides nothing. Terminals come
from ``publisher.language.lexer``, which takes the longest match and knows the words of each
fence; ``publisher.language.words`` lists them.

Lark works out the tables from this text. That takes longer than a whole check of a pattern may
(about 0.2 s, and 0.05 s to load Lark), so the tables are kept in ``tables.json``, where
``publisher.language.parser`` reads them. After a change here run
``python -m publisher.language.compile``; a test fails until that is done.
"""

from __future__ import annotations

STARTS = ("header", "size", "variant", "statement", "claim", "spoken")

GRAMMAR = """
header: NAME (COMMA phrase)*

size: NAME EQUALS (ASKED | value) (COMMA limit)* STRING?
limit: FROM value TO value      -> range
     | ELSE value               -> default
     | OR value WHEN condition  -> alternative
variant: VARIANT NAME COLON setting (COMMA setting)* STRING?
setting: NAME EQUALS value

statement: HEAD phrase (COMMA phrase)* items? STRING?
items: COLON item (COMMA item)*
item: NAME (EQUALS value)?              -> plain_item
    | NUMBER OF NAME                    -> counted_item
    | OPENING expr CLOSING OF NAME      -> counted_item

phrase: value NAME? joining*            -> value_phrase
      | expr direction places joining*  -> offset_phrase
      | NAME EQUALS value joining*      -> setting_phrase
      | joining+                        -> joining_phrase
joining: (PREP | TO | WITH) places      -> prep
       | FROM place TO place            -> from_to
       | CALLED NAME                    -> called
       | WHEN condition                 -> when
       | BY value                       -> by
       | (SAYING | FROM_FILE) STRING    -> quoted

claim: subjects VERB object? margin? (COMMA? WHEN condition)? STRING?
subjects: expr ((COMMA expr)* AND expr)?
        | expr direction places         -> offset_places
object: value
      | expr direction places           -> offset
margin: WITH expr (TO expr)? TO_SPARE
      | WITH AT_LEAST expr TO_SPARE     -> least_margin

places: expr (AND expr)*
      | expr direction places           -> offset_places
place: expr
     | expr direction place             -> offset
direction: DIRECTION | SIDE OF

condition: comparison (AND comparison)*
comparison: expr COMPARE expr

spoken: value
?value: expr
      | expr (AND expr)+                -> several
      | term X term (X term)?           -> join
?expr: term
     | expr (PLUS | MINUS) term         -> binary
?term: factor
     | term (TIMES | OVER) factor       -> binary
?factor: power
       | MINUS factor                   -> negate
?power: atom
      | atom POWER atom                 -> binary
?atom: (MEASURE | NUMBER)               -> literal
     | segment (OF segment)* STATE?     -> ref
     | NAME OPENING value (COMMA value)* CLOSING -> call
     | OPENING value CLOSING            -> grouped
     | OPENING expr COMMA expr CLOSING  -> point
segment: NAME | SIDE | CORNER | MIDDLE | FACE | EACH NAME | ALL

%declare NUMBER MEASURE NAME SIDE CORNER FACE MIDDLE EACH ALL STATE COMPARE AT_LEAST TO_SPARE
%declare PREP TO WITH FROM FROM_FILE CALLED WHEN BY SAYING AND OF X DIRECTION ASKED ELSE OR
%declare VARIANT HEAD VERB STRING COMMA COLON EQUALS OPENING CLOSING
%declare PLUS MINUS TIMES OVER POWER
"""
