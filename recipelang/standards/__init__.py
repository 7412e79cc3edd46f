"""The figures of the meal programs as dated data: one TOML file a subject, read by `load.py`. Computes nothing."""
