using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Tests.Shop;

/// <summary>What must hold on every page.</summary>
internal static class PageChecks
{
    /// <summary>A text lies on its page, ascenders and descenders too; turned texts are not looked at.</summary>
    internal static void Inside(Drawing page, DrawingItem.Text text)
    {
        if (text.TurnDeg != 0)
            return;
        double width = FontMetrics.Of(text.Face).WidthMm(text.Words, text.SizeMm);
        double left = text.AtMm.X - (text.Anchor switch { TextAnchor.Start => 0, TextAnchor.Middle => width / 2, _ => width });
        Assert.True(left >= -0.01 && left + width <= page.WidthMm + 0.01, $"\"{text.Words}\" stands from {left:0.0} to {left + width:0.0} mm on {page.WidthMm:0.0} mm.");
        Assert.True(text.AtMm.Y - (0.72 * text.SizeMm) >= -0.01 && text.AtMm.Y <= page.HeightMm + 0.01, $"\"{text.Words}\" stands at {text.AtMm.Y:0.0} mm of {page.HeightMm:0.0} mm.");
    }

    /// <summary>Every text of every page lies on it, and no two lines of text lie over each other.</summary>
    internal static void Clean(IReadOnlyList<Drawing> pages)
    {
        foreach (Drawing page in pages)
        {
            DrawingItem.Text[] texts = [.. page.Items.OfType<DrawingItem.Text>()];
            Assert.All(texts, t => Inside(page, t));
            (double L, double T, double R, double B, string W)[] boxes = [.. texts.Where(t => t.TurnDeg == 0).Select(Box)];
            for (int i = 0; i < boxes.Length; i++)
            {
                for (int j = i + 1; j < boxes.Length; j++)
                {
                    bool apart = boxes[i].R <= boxes[j].L || boxes[j].R <= boxes[i].L || boxes[i].B <= boxes[j].T || boxes[j].B <= boxes[i].T;
                    Assert.True(apart, $"\"{boxes[i].W}\" and \"{boxes[j].W}\" lie over each other.");
                }
            }
        }
    }

    private static (double L, double T, double R, double B, string W) Box(DrawingItem.Text text)
    {
        double width = FontMetrics.Of(text.Face).WidthMm(text.Words, text.SizeMm);
        double left = text.AtMm.X - (text.Anchor switch { TextAnchor.Start => 0, TextAnchor.Middle => width / 2, _ => width });
        return (left, text.AtMm.Y - (0.7 * text.SizeMm), left + width, text.AtMm.Y, text.Words);
    }
}
