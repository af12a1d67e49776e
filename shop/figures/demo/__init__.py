"""An invented workshop with two years of work, made through the same services that people use."""
