"""What a writer changes and is sound raises nothing: the twins of breaks."""

import pytest

from tests.mutated.odd_breaks import SOUND_ODD
from tests.mutated.rule_breaks import SOUND_RULES
from tests.mutated.sibling_breaks import SOUND, Sound
from tests.projects import base, project


@pytest.mark.parametrize("case", [*SOUND, *SOUND_RULES, *SOUND_ODD], ids=lambda case: case.name)
def test_a_sound_edit_raises_nothing(case: Sound):
    files = base()
    assert case.old in files[case.file], "the edit changes nothing"
    edited = files[case.file].replace(case.old, case.new, 1)
    found = project({**files, case.file: edited}).findings
    assert [(each.code.id, str(each.message)) for each in found] == []
