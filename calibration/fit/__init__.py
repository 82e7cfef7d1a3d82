"""The error model of a photo, fitted on rendered photos of known truth.

true_errors    one photo                 -> each error alone, everything else at its truth
pooled         errors of several worlds  -> mean and spread, each world counting alike
crotch_errors  the same of the crotch    -> by legwear
model          all of it                 -> ErrorModel, and one for each world left out
"""
