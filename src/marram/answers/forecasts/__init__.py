"""Answers on forecasts."""
