"""Our words in the enumerations of DSP8010. What has no counterpart there is left out."""

from collections.abc import Mapping
from typing import Final

VERSIONS: Final[Mapping[str, str]] = {
    "Battery": "v1_5_0",
    "Chassis": "v1_28_0",
    "ComputerSystem": "v1_27_0",
    "Drive": "v1_22_0",
    "Fan": "v1_6_0",
    "Manager": "v1_24_0",
    "Memory": "v1_23_0",
    "NetworkAdapter": "v1_14_0",
    "PCIeDevice": "v1_21_0",
    "PCIeSlots": "v1_6_1",
    "Port": "v1_18_0",
    "PowerSubsystem": "v1_1_3",
    "PowerSupply": "v1_6_0",
    "Processor": "v1_22_0",
    "ServiceRoot": "v1_20_0",
    "SessionService": "v1_2_0",
    "Storage": "v1_21_0",
    "StorageController": "v1_11_0",
    "ThermalSubsystem": "v1_5_0",
    "Volume": "v1_10_2",
}
"""Schema versions of release 2025.4."""

PROTOCOLS: Final = {"nvme": "NVMe", "sas": "SAS", "sata": "SATA", "pcie": "PCIe"}
MEDIA: Final = {"ssd": "SSD", "hdd": "HDD"}
DRIVE_FORMS: Final = {
    "2.5-inch": "Drive2_5",
    "3.5-inch": "Drive3_5",
    "e3.s": "EDSFF_E3_Short",
    "e3.s-2t": "EDSFF_E3_Short",
    "e3.l": "EDSFF_E3_Long",
    "m.2-2230": "M2_2230",
    "m.2-2242": "M2_2242",
    "m.2-2260": "M2_2260",
    "m.2-2280": "M2_2280",
    "m.2-22110": "M2_22110",
}
MODULES: Final = {
    "rdimm": "RDIMM",
    "3ds-rdimm": "RDIMM",
    "udimm": "UDIMM",
    "lrdimm": "LRDIMM",
    "so-dimm": "SO_DIMM",
}
MEMORY: Final = {"ddr4": "DDR4", "ddr5": "DDR5", "hbm3": "HBM3"}
SLOT_FORMS: Final = {"ocp-nic-3.0-sff": "OCP3Small", "ocp-nic-3.0-lff": "OCP3Large", "m.2": "M2"}
CAGES: Final = {
    "sfp+": "SFPPlus",
    "sfp28": "SFP28",
    "qsfp28": "QSFP28",
    "qsfp56": "QSFP56",
    "qsfp-dd": "QSFPDD",
    "osfp": "OSFP",
}
RAID: Final = {level: f"RAID{level}" for level in (0, 1, 5, 6, 10, 50, 60)}
DRIVE_SLOTS: Final = {"2.5-inch": "U2", "e3.s": "EDSFF", "e3.s-2t": "EDSFF", "e3.l": "EDSFF"}
PLUGS: Final = {"C14": "IEC_60320_C14", "C16": "IEC_60320_C16", "C20": "IEC_60320_C20"}
TPM: Final = {"TPM 1.2": "TPM1_2", "TPM 2.0": "TPM2_0"}
AREAS: Final = {"front": "Front", "rear": "Rear"}
MOST_GENERATION: Final = 6
# Line rates in Gbit/s by generation. Source: INCITS 519 and 534 for SAS, SATA 3.5 for SATA
RATES: Final[Mapping[tuple[str, int], float]] = {
    ("sas", 2): 6,
    ("sas", 3): 12,
    ("sas", 4): 22.5,
    ("sata", 1): 1.5,
    ("sata", 2): 3,
    ("sata", 3): 6,
}
CARDS: Final = frozenset({"network-adapter", "accelerator", "storage-controller", "boot-module"})
