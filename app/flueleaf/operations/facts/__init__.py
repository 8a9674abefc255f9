"""From records and verdicts to the facts that papers print."""
