"""The answer on one screen: verdict and reasons, rig, people, drill, times, questions. Everything
else is left to the whole paper.
"""
