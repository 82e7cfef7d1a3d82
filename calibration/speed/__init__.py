"""How fast it is: the judgement of bicycles, and the measurement of photos."""
