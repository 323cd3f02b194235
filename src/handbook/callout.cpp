// In work.
