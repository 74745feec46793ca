"""What a person does, one module a deed: records in, one transaction, one journal entry, records out."""
