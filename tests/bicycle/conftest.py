from hypothesis import settings

# Speed is measured by a benchmark; here a slow machine must not fail a property.
settings.register_profile("no_deadline", deadline=None)
settings.load_profile("no_deadline")
