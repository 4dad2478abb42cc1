"""A citation as data, in every report for programs the same."""

from __future__ import annotations

from typing import Any

from checker.rules.model.citing import Citation


def citation_data(cite: Citation) -> dict[str, Any]:
    """Document, edition, section, and whether it is to be verified."""
    return {"document": cite.document, "edition": cite.edition, "section": cite.section, "verify": cite.verify}
