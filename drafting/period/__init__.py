"""Right for the time, the place and the rank: statements with their sources, and advice drawn from them.

    places, dyes, things → statements, choice → findings → instead, advice → house_rules, cautions → counsel
    → telling

It never forbids: whoever runs the event decides. Nothing here is read from disk or imported before it is
asked for.
"""
