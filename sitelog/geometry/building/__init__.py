"""A cut roof as a gang says it, block by block: main roof, wings, bays, lean-tos, dormers."""
