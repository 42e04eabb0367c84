"""Works to cite, as other programs write them: read, checked, put into the bibliography of a library."""
