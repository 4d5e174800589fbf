"""The real data: no problem at all."""

from generator.check import check


def test_no_problem(tree):
    assert [str(problem) for problem in check(tree)] == []
