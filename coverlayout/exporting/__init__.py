"""The papers for the bench: measures, tables and drawings, without Qt."""
