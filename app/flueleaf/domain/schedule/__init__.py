"""Due dates and the law behind them."""
