"""The truth bench: photos of known truth, what is fitted to them, and what is scored on them.

======================  ==========================================================================
``scenes``, ``worlds``  photos rendered with their truth, by Blender
``observe``             what the program sees in each photo, kept beside it
``true_view``           what is true in the picture: the real camera and the real points
``scored``, ``fit``     one photo's reading beside its truth; the error model fitted to many
``score``               the report on worlds left out
``sights_net``          the network that is asked beside the rules
``people``              measured people, and the shipped numbers made from them
``doubtful``, ``real``  pictures that must not pass; real pictures of public vision libraries
``trials``              single questions, each with its page of results
``speed``, ``fuzz``     how fast it is, and how it ends on damaged files and drawn calls
``data``, ``results``   published tables with their sources; what the commands wrote
======================  ==========================================================================

``python -m calibration --help`` renders, observes, fits and scores; every other package or module
with a command of its own says so in its first lines.
"""
