"""From the answers of the rules to dates, amounts and numbers: values only, no texts."""
