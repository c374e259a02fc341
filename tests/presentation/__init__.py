"""What both front ends show: layout, drawing and words."""
