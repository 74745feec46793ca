"""Estimate, job card, invoice, loom record, recheck letter and the other papers, as plain text."""
