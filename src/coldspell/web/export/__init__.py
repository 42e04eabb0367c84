"""The library and undated answers as a static site: from a memory stick or any host, without a server."""
