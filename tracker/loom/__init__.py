"""The bike's loom, pure: places, wires, devices, states; circuits are found, not typed."""
