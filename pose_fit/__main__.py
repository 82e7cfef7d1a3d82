"""``python -m pose_fit`` is the command line."""

from pose_fit.cli.main import main

main()
