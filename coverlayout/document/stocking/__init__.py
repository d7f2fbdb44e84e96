"""Board, web, tissue and paper laid on the sheets and rolls they come on."""
