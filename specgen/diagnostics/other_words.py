"""What authors of the trade write for another word of the program's.

Common practice, no source. A row a name: kinds of part (their collections in rules follow), fields,
conditions. Only names that may stand where a word was written are ever offered.
"""

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Final

OTHER_WORDS: Final[Mapping[str, str]] = {
    # kinds of part
    "accelerator": "gpu, graphics card, video card, npu, coprocessor",
    "air-duct": "shroud, air baffle, baffle, air shroud",
    "backplane": "drive cage, bay module",
    "bezel": "front cover, faceplate",
    "boot-module": "boot drive, boot device, bootable module",
    "cable-arm": "cma, cable management arm",
    "drive": "disk, disc, ssd, hdd, hard drive, hard disk, storage, flash drive",
    "cache-protection": "bbu, battery, supercap, supercapacitor, cache battery, cache protection",
    "fan": "blower, cooler, fan module",
    "blank": "filler, dummy, blanking panel, blind",
    "heat-sink": "cooler, cpu cooler, radiator",
    "management-controller": "bmc, service processor, remote management",
    "memory-module": "ram, dimm, memory, memory stick, rdimm, udimm, module",
    "network-adapter": "nic, lan card, ethernet adapter, network card, lom, ocp card",
    "power-cord": "power cable, mains cable, line cord, mains lead",
    "power-supply": "psu, power supply unit, power unit",
    "processor": "cpu, central processing unit, chip",
    "rail-kit": "rails, slide rails, rack rails, slides",
    "tpm": "security module, trusted platform module, security chip",
    "storage-controller": "hba, raid card, raid controller, disk controller, raid",
    "transceiver": "optic, optics, sfp, qsfp, gbic, optical module",
    # fields
    "base_clock": "frequency, clock, base frequency, clock speed, freq",
    "max_clock": "turbo, turbo clock, max clock, maximum clock, turbo frequency, boost",
    "brings": "provides, adds, contributes",
    "capacity": "size, volume",
    "connector": "slot type, bus",
    "cores": "core count, number of cores",
    "ethernet": "ports, network ports, nic ports",
    "fit": "parts, components, slots, bill of materials, bom, configuration, equipment",
    "fixed": "soldered, onboard, integrated",
    "form": "form factor",
    "generation": "pcie generation, gen, pcie gen",
    "interface": "protocol, bus",
    "keeps_cache": "cache protection, backup",
    "key": "keying",
    "kind": "type, category, class",
    "lanes": "link width, lane count, width",
    "life": "lifecycle, availability",
    "maker": "manufacturer, vendor, brand, supplier",
    "mass": "weight",
    "maximum": "max, peak",
    "medium": "media",
    "must": "required, mandatory",
    "name": "title, label, designation",
    "number": "sku, part number, order number, article number, model number, item number, pn",
    "output": "wattage, rated power, rating, watts",
    "outputs": "wattage, rated power, rating, watts, output",
    "platform": "chassis, server, model, base",
    "positions": "slots, places, locations, bays",
    "power": "consumption, power draw, watts, wattage, draw",
    "raid": "raid levels",
    "rack_units": "height, ru, units, form factor",
    "reason": "why, justification",
    "replaced_by": "successor",
    "size": "dimensions, measurements, dimension",
    "speed": "data rate, rate, frequency, transfer rate, bandwidth",
    "summary": "description, abstract",
    "swap": "hot swap, hotplug, hot plug",
    "takes": "accepts, holds",
    "tdp": "thermal design power, wattage",
    "threads": "thread count, logical processors",
    "typical": "average, typ",
    "volumes": "raid, arrays, raid groups, logical drives, virtual disks",
    "writes_per_day": "dwpd, endurance",
    # conditions
    "altitude": "elevation, height",
    "inlet": "temperature, temp, ambient, ambient temperature, inlet temperature, air",
    "line": "voltage, mains, line voltage, input voltage, supply voltage",
    "redundancy": "redundant, psu redundancy",
}
"""By the name of the program: the words that are written for it, parted by commas."""


def _bare(word: str) -> str:
    """A word without case, separators and what makes a plural of it."""
    plain = "".join(each for each in word.casefold() if each not in "-_ ")
    if plain.endswith("ies"):
        return f"{plain[:-3]}y"
    return plain.removesuffix("s")


@lru_cache(1)
def _meant() -> Mapping[str, frozenset[str]]:
    """What each word may mean, both of them bare."""
    found: dict[str, set[str]] = {}
    for name, words in OTHER_WORDS.items():
        for word in words.split(","):
            found.setdefault(_bare(word.strip()), set()).add(_bare(name))
    return {word: frozenset(names) for word, names in found.items()}


def otherwise_called(word: str, candidates: Iterable[str]) -> tuple[str, ...]:
    """The candidates that people of the trade call by this word."""
    names = _meant().get(_bare(word))
    if names is None:
        return ()
    return tuple(sorted(each for each in set(candidates) if _bare(each) in names and each != word))
