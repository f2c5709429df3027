"""A second reader of PDF/UA: a validator that had no part in our own checks (page-validation; its rules follow the
machine conditions of the Matterhorn protocol). What a machine cannot tell, whether words in place of a picture are true
or an order makes sense, it does not tell either."""

from __future__ import annotations

import page

PROFILE = "ua1"


def validator_complaints(data: bytes) -> list[str]:
    """Every rule of PDF/UA-1 the validator finds broken, with its own words and the object, if it names one."""
    report = page.validate_pdf_bytes(data, profile=PROFILE)
    return [
        f"{failure.rule_id}: {failure.message}" + (f" ({failure.object_id.object_number})" if failure.object_id else "")
        for failure in report.failures
    ]
