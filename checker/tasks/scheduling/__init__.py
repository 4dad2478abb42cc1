"""What each piece must be: the values of its facts that no mandatory rule surely turns down."""
