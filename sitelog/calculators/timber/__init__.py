"""Timber to buy and to saw: weights, members, sticks, cutting plans, joints."""
