"""A build in the names and enumerations of DMTF Redfish, for inventory tools.

Source: DMTF DSP0266 (the protocol's data model) and DSP8010, release 2025.4 (the schemas). What is
written is a description of a system as it is planned: no serial numbers, no health, no readings.
"""

from specgen.write.redfish.mockup import files
from specgen.write.redfish.system import resources, text

__all__ = ["files", "resources", "text"]
