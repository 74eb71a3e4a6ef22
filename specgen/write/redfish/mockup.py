"""The tree of a service as files, as servers of mock-ups read it.

Source: DMTF DSP2043, the published mock-ups: a folder for each resource with its `index.json`, the
service root's at the top; `odata/index.json` and `$metadata/index.xml` beside them, which DSP0266
asks of a service (8.4.1 and 8.4.2).
"""

import json
from collections.abc import Iterator, Mapping

from specgen.document.data import BuildData
from specgen.write.redfish.enumerations import VERSIONS
from specgen.write.redfish.resource_tree import ROOT, Resource
from specgen.write.redfish.system import resources

_SCHEMAS = "http://redfish.dmtf.org/schemas/v1"
_ODATA = "http://docs.oasis-open.org/odata/ns"


def files(build: BuildData) -> Mapping[str, bytes]:
    """What stands in the folder: path within it, with `/`, to content."""
    tree = resources(build)
    made = {
        f"{path.removeprefix(ROOT).lstrip('/')}/index.json".lstrip("/"): _lines(resource)
        for path, resource in tree.items()
    }
    made["odata/index.json"] = _lines(_service_document(tree[ROOT]))
    made["$metadata/index.xml"] = "\n".join(_metadata(tree)).encode()
    return made


def _lines(resource: Resource) -> bytes:
    return f"{json.dumps(resource, indent=1, ensure_ascii=False)}\n".encode("utf-8", "replace")


def _service_document(root: Resource) -> Resource:
    """The OData service document: what the root leads to."""
    found = [("Service", f"{ROOT}/")]
    for name, value in root.items():
        if isinstance(value, dict) and set(value) == {"@odata.id"}:
            found.append((name, value["@odata.id"]))
    entries = [{"name": name, "kind": "Singleton", "url": url} for name, url in found]
    return {"@odata.context": f"{ROOT}/$metadata", "value": entries}


def _metadata(tree: Mapping[str, Resource]) -> Iterator[str]:
    """The OData metadata document: where the schemas of all types here lie."""
    types = {
        str(resource["@odata.type"]).lstrip("#").rsplit(".", 1)[0] for resource in tree.values()
    }
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield f'<edmx:Edmx xmlns:edmx="{_ODATA}/edmx" Version="4.0">'
    for namespace in sorted(types):
        name = namespace.partition(".")[0]
        yield f'  <edmx:Reference Uri="{_SCHEMAS}/{name}_v1.xml">'
        for each in dict.fromkeys((name, namespace)):
            yield f'    <edmx:Include Namespace="{each}"/>'
        yield "  </edmx:Reference>"
    yield f'  <edmx:Reference Uri="{_SCHEMAS}/RedfishExtensions_v1.xml">'
    yield '    <edmx:Include Namespace="RedfishExtensions.v1_0_0" Alias="Redfish"/>'
    yield "  </edmx:Reference>"
    yield "  <edmx:DataServices>"
    yield f'    <Schema xmlns="{_ODATA}/edm" Namespace="Service">'
    root = f"ServiceRoot.{VERSIONS['ServiceRoot']}.ServiceContainer"
    yield f'      <EntityContainer Name="Service" Extends="{root}"/>'
    yield "    </Schema>"
    yield "  </edmx:DataServices>"
    yield "</edmx:Edmx>"
    yield ""
