"""The dropped ball: how it bounces and rolls on a slope, and how often it must be dropped again or placed."""
