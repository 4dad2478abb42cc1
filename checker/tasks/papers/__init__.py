"""What goes with a permit: papers of the packet and signs to be made."""
