"""What the pages and commands say and draw of antlers among entries, and of measurers."""
