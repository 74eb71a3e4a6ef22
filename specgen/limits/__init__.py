"""The most and the least a platform can reach over all valid builds, each with a build as proof.

A solver looks for the build in a model that leaves out no valid build (`closure`, `build_model`,
`wiring`, `together`, `stated`); the ordinary checks then judge what it found (`solve`). On that
stand limits (`limit`, `table`, `kept`, `reach`), wishes and what stands in their way (`wish`,
`conflict`), the nearest valid builds (`near`), and rules about rules (`deep`).
"""
