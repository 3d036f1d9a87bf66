"""What closes where, as seen from the vehicle's wires."""
