"""Reading files: strict YAML with places, schemas, the rule base and case files."""
