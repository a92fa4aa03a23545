"""Fitted to the values of days by least squares: effects of several changes, a stepped roll-out, pairs adjusted for weather and field."""
