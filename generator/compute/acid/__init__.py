"""Equations of a porous lead-acid cell; `generator.compute.lead_acid` has the calls."""
