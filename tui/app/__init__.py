"""The screen: draws the walk and hands it what the person does. No sums, no files."""
