"""The order in which an author writes keys changes nothing of the system."""

import random

import pytest
import yaml

from specgen.assembly import Assembly
from tests.projects import base, project


def state(assembly: Assembly) -> dict[str, object]:
    """What a system is, without where it was written."""
    places = {
        place.name: (place.state, place.part and place.part.id, place.reason, place.host, place.to)
        for place in assembly.places.values()
    }
    links = {
        name: (
            link.wired,
            link.lanes,
            link.generation,
            link.protocol,
            link.broken,
            link.owner and link.owner.name,
            [stage.name for stage in link.stages],
        )
        for name, link in assembly.links.items()
    }
    pools = {
        name: (
            sorted(entry[:2] for entry in pool.offered),
            sorted(entry[:2] for entry in pool.taken),
        )
        for name, pool in assembly.pools.items()
    }
    return {"places": places, "links": links, "pools": pools}


def shuffled(value: object, chance: random.Random) -> object:
    """The same tree with the keys of every mapping in another order."""
    if isinstance(value, dict):
        keys = list(value)
        chance.shuffle(keys)
        return {key: shuffled(value[key], chance) for key in keys}
    if isinstance(value, list):
        return [shuffled(each, chance) for each in value]
    return value


def rewritten(text: str, seed: int) -> str:
    tree = shuffled(yaml.load(text, yaml.BaseLoader), random.Random(seed))
    return yaml.dump(tree, sort_keys=False, default_style=None).replace("'", "")


@pytest.mark.parametrize("seed", range(4))
def test_the_order_of_keys_changes_no_state(seed):
    plain = base()
    other = {name: rewritten(text, seed) for name, text in plain.items()}
    before, after = project(plain), project(other)
    assert before.codes == after.codes
    assert before.assemblies.keys() == after.assemblies.keys()
    for name, assembly in before.assemblies.items():
        assert state(assembly) == state(after.assemblies[name])


@pytest.mark.parametrize("seed", range(4))
def test_the_order_of_positions_on_a_platform_changes_no_state(seed):
    plain = base()
    name = "platforms/lantern.yaml"
    tree = yaml.load(plain[name], yaml.BaseLoader)
    random.Random(seed).shuffle(tree["positions"])
    other = {**plain, name: yaml.dump(tree, sort_keys=False).replace("'", "")}
    before, after = project(plain), project(other)
    assert before.codes == after.codes
    for build, assembly in before.assemblies.items():
        assert state(assembly) == state(after.assemblies[build])
