"""Engine cards of the reader's own: checked, drawn as a form, read back, and quoted in pages."""
