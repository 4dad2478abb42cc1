"""Time from the loss of supply to the last load, cranking, batteries and chargers."""
