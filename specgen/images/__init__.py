"""Files of pictures: SVG written anew, rasters measured, turned upright, stripped, sized."""
