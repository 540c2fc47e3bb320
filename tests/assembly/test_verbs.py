"""Every step that the language builds is carried out."""

from publisher.assembly.story import ONE_AT_A_TIME, VERBS
from publisher.language.statements import STATEMENTS


def test_every_step_has_its_verb() -> None:
    built = {head for head, spec in STATEMENTS["step"].items() if spec.built}
    assert built <= set(VERBS) <= set(STATEMENTS["step"])
    assert set(VERBS) >= ONE_AT_A_TIME
    assert all(callable(VERBS[head]) for head in VERBS)
