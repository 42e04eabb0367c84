"""The folder of an advice office: its own notes by kind and place, its telephone, logo and photographs."""
