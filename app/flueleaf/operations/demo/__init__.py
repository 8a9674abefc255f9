"""The demo book: an invented business and its years of visits, made from data and the physics."""
