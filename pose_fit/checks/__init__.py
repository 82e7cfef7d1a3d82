"""Can what was found be believed? Each check gives a refusal with reasons, or doubts to be told."""
